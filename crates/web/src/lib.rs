//! The studio: pages served to the professional.
