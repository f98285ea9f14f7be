//! The neural networks: frames in, landmarks of the golfer out.
