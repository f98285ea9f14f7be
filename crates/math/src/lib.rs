//! Filters, least squares, rotations and statistics; knows nothing of golf.
