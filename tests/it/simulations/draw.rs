//! Random numbers from a seed, the same on every machine.

/// SplitMix64 (Steele, Lea & Flood 2014, OOPSLA), with normal numbers by the polar method.
pub(super) struct Draw {
    state: u64,
    spare: Option<f64>,
}

impl Draw {
    pub(super) fn new(seed: u64) -> Self {
        Self { state: seed, spare: None }
    }

    fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.state;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// Evenly from 0 up to 1.
    pub(super) fn even(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Normal with mean 0 and SD 1 (Marsaglia & Bray 1964).
    pub(super) fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        loop {
            let (a, b) = (2.0 * self.even() - 1.0, 2.0 * self.even() - 1.0);
            let square = a * a + b * b;
            if square > 0.0 && square < 1.0 {
                let factor = (-2.0 * libm::log(square) / square).sqrt();
                self.spare = Some(b * factor);
                return a * factor;
            }
        }
    }

    /// Sum of squares of `count` normal numbers.
    pub(super) fn chi_square(&mut self, count: usize) -> f64 {
        (0..count).map(|_| self.normal()).map(|z| z * z).sum()
    }
}

#[test]
fn numbers_are_normal_and_even() {
    let mut draw = Draw::new(7);
    let count = 40_000;
    let (mut sum, mut squares, mut beyond_two, mut even) = (0.0, 0.0, 0.0, 0.0);
    for _ in 0..count {
        let z = draw.normal();
        sum += z;
        squares += z * z;
        beyond_two += if z.abs() > 2.0 { 1.0 } else { 0.0 };
        even += draw.even();
    }
    let n = f64::from(count);
    assert!((sum / n).abs() < 0.02 && (squares / n - 1.0).abs() < 0.03);
    assert!((beyond_two / n - 0.0455).abs() < 0.004 && (even / n - 0.5).abs() < 0.006);
}
