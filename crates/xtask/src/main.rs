//! Set-up, demo, test and bench (development).

fn main() {}
