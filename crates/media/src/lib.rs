//! Probing and decoding of phone video to frames with true times, and of its sound.
