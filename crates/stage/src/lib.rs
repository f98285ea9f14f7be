//! A rendered golfer before a virtual phone, with exact truth (development).
