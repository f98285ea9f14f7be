//! A lesson as a page: values in, bytes out.
