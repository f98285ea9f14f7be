//! Half-precision numbers (IEEE 754-2019 binary16), in which the networks store their weights.

/// The value of a half-precision number; exact, since every one of them is also a single-precision
/// number.
pub(super) fn f32_from_f16(bits: u16) -> f32 {
    let sign = u32::from(bits >> 15) << 31;
    let exponent = u32::from(bits >> 10) & 0x1f;
    let fraction = u32::from(bits & 0x3ff);
    match exponent {
        // Zero and subnormal numbers: fraction · 2⁻²⁴.
        0 => f32::from_bits(sign | (fraction as f32 / 16_777_216.0).to_bits()),
        // Infinity and NaN.
        0x1f => f32::from_bits(sign | 0x7f80_0000 | (fraction << 13)),
        // The exponent's bias is 15 in half and 127 in single precision.
        _ => f32::from_bits(sign | ((exponent + 127 - 15) << 23) | (fraction << 13)),
    }
}

#[cfg(test)]
mod tests {
    use super::f32_from_f16;

    /// Worked examples of the binary16 format; largest, smallest and rounding cases as listed in
    /// the article "Half-precision floating-point format" of Wikipedia.
    #[test]
    fn known_numbers() {
        let cases: [(u16, f32); 10] = [
            (0x0000, 0.0),
            (0x8000, -0.0),
            (0x3c00, 1.0),
            (0xc000, -2.0),
            (0x7bff, 65504.0),
            (0x0400, 6.103_515_6e-5),
            (0x0001, 5.960_464_5e-8),
            (0x03ff, 6.097_555e-5),
            (0x3555, 0.333_251_95),
            (0x7c00, f32::INFINITY),
        ];
        for (bits, value) in cases {
            assert_eq!(f32_from_f16(bits).to_bits(), value.to_bits(), "{bits:#06x}");
        }
        assert!(f32_from_f16(0x7e00).is_nan());
    }
}
