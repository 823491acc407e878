//! A curve through measured steps: what a plate tone prints at, and back.
//!
//! A curve goes through the measured steps by a monotone cubic (piecewise cubic
//! Hermite interpolation with the slopes of Fritsch and Butland): between two
//! steps it never leaves their range. No small, kept crate was found for it:
//! the ones looked at interpolate linearly, on regular grids only, or with
//! cubics that overshoot. Values agree with scipy 1.17.1.

/// A measured curve: tones on the plate against tones in print, both as
/// fractions.
#[derive(Debug, Clone, Copy)]
pub struct ToneCurve<'a> {
    plates: &'a [f64],
    prints: &'a [f64],
}

/// Why measured steps make no curve.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CurveFault {
    /// The two series do not have the same length.
    Lengths,
    /// There are fewer than two steps.
    TooFew,
    /// A plate tone is not above the one before, or is no number.
    PlatesDoNotRise,
    /// A printed tone is not above the one before, or is no number; the curve
    /// can be read forwards but not backwards.
    PrintsDoNotRise,
}

impl<'a> ToneCurve<'a> {
    /// The curve through measured steps.
    ///
    /// `plates` are the tones on the plate and `prints` the printed ones, as
    /// fractions, usually 0 to 1.
    ///
    /// # Errors
    /// [`CurveFault`] if the steps are fewer than two, not as many on both
    /// sides, or if the plate tones do not rise.
    ///
    /// ```
    /// use gearside::trade::tone_curve::{CurveFault, ToneCurve};
    /// assert!(ToneCurve::new(&[0.0, 0.5, 1.0], &[0.0, 0.75, 1.0]).is_ok());
    /// assert_eq!(ToneCurve::new(&[0.0, 0.5], &[0.0]).unwrap_err(), CurveFault::Lengths);
    /// ```
    pub fn new(plates: &'a [f64], prints: &'a [f64]) -> Result<Self, CurveFault> {
        if plates.len() != prints.len() {
            return Err(CurveFault::Lengths);
        }
        if plates.len() < 2 {
            return Err(CurveFault::TooFew);
        }
        if !rises(plates) || prints.iter().any(|value| !value.is_finite()) {
            return Err(CurveFault::PlatesDoNotRise);
        }
        Ok(Self { plates, prints })
    }

    /// What a plate tone prints at, as a fraction; `None` outside the measured steps.
    ///
    /// `plate` is the tone on the plate as a fraction, usually 0 to 1.
    ///
    /// Source: monotone cubic interpolation; values agree with scipy 1.17.1.
    ///
    /// ```
    /// use gearside::trade::tone_curve::ToneCurve;
    /// let curve = ToneCurve::new(&[0.0, 0.5, 1.0], &[0.0, 0.75, 1.0]).unwrap();
    /// // Worked by hand: slopes 2 and 0.75 at the ends of the first half.
    /// assert!((curve.print_of(0.25).unwrap() - 0.453_125).abs() < 1e-12);
    /// assert!(curve.print_of(1.2).is_none());
    /// ```
    #[must_use]
    pub fn print_of(&self, plate: f64) -> Option<f64> {
        let segment = segment(self.plates, plate)?;
        let width = self.plates[segment + 1] - self.plates[segment];
        Some(self.cubic(segment).at((plate - self.plates[segment]) / width))
    }

    /// Which plate tone prints at `print`, both as fractions; `None` outside the
    /// measured steps.
    ///
    /// Source: the inverse of [`ToneCurve::print_of`].
    ///
    /// # Errors
    /// [`CurveFault::PrintsDoNotRise`] if a printed tone is not above the one
    /// before: then more than one plate tone may print alike.
    ///
    /// ```
    /// use gearside::trade::tone_curve::ToneCurve;
    /// let curve = ToneCurve::new(&[0.0, 0.5, 1.0], &[0.0, 0.75, 1.0]).unwrap();
    /// // Worked by hand forwards: 25 % on the plate prints at 45.3125 %.
    /// let plate = curve.plate_for(0.453_125).unwrap().unwrap();
    /// assert!((plate - 0.25).abs() < 1e-12);
    /// ```
    pub fn plate_for(&self, print: f64) -> Result<Option<f64>, CurveFault> {
        if !rises(self.prints) {
            return Err(CurveFault::PrintsDoNotRise);
        }
        let Some(segment) = segment(self.prints, print) else { return Ok(None) };
        let width = self.plates[segment + 1] - self.plates[segment];
        Ok(Some(self.plates[segment] + width * self.cubic(segment).solve(print)))
    }

    fn cubic(&self, segment: usize) -> Cubic {
        let width = self.plates[segment + 1] - self.plates[segment];
        Cubic {
            from: self.prints[segment],
            to: self.prints[segment + 1],
            leaving: self.slope(segment) * width,
            arriving: self.slope(segment + 1) * width,
        }
    }

    /// The slope at a step: the weighted harmonic mean of the slopes to both
    /// sides, 0 at a peak; at the ends from three steps.
    fn slope(&self, step: usize) -> f64 {
        let last = self.plates.len() - 1;
        if last == 1 {
            return self.chord(0);
        }
        match step {
            0 => end_slope(self.width(0), self.width(1), self.chord(0), self.chord(1)),
            _ if step == last => {
                end_slope(self.width(last - 1), self.width(last - 2), self.chord(last - 1), self.chord(last - 2))
            }
            _ => {
                let (before, after) = (self.chord(step - 1), self.chord(step));
                if before * after <= 0.0 {
                    return 0.0;
                }
                let (left, right) = (self.width(step - 1), self.width(step));
                let (near, far) = (2.0 * right + left, right + 2.0 * left);
                (near + far) / (near / before + far / after)
            }
        }
    }

    fn width(&self, segment: usize) -> f64 {
        self.plates[segment + 1] - self.plates[segment]
    }

    fn chord(&self, segment: usize) -> f64 {
        (self.prints[segment + 1] - self.prints[segment]) / self.width(segment)
    }
}

/// The slope at an end, from the two segments next to it, kept from overshooting.
fn end_slope(near_width: f64, far_width: f64, near: f64, far: f64) -> f64 {
    let slope = ((2.0 * near_width + far_width) * near - near_width * far) / (near_width + far_width);
    if slope * near <= 0.0 {
        0.0
    } else if near * far <= 0.0 && slope.abs() > 3.0 * near.abs() {
        3.0 * near
    } else {
        slope
    }
}

/// One piece of the curve over 0 to 1.
struct Cubic {
    from: f64,
    to: f64,
    leaving: f64,
    arriving: f64,
}

impl Cubic {
    fn at(&self, share: f64) -> f64 {
        let (t, rest) = (share, 1.0 - share);
        rest * rest * ((1.0 + 2.0 * t) * self.from + t * self.leaving)
            + t * t * ((3.0 - 2.0 * t) * self.to - rest * self.arriving)
    }

    /// Where the piece, which rises, reaches a value: the interval is halved
    /// until no number lies between its ends.
    fn solve(&self, value: f64) -> f64 {
        let (mut low, mut high) = (0.0, 1.0);
        loop {
            let middle = f64::midpoint(low, high);
            if middle <= low || middle >= high || high - low < 1e-15 {
                return middle;
            }
            if self.at(middle) < value { low = middle } else { high = middle }
        }
    }
}

fn rises(values: &[f64]) -> bool {
    values.windows(2).all(|pair| pair[0] < pair[1]) && values.iter().all(|value| value.is_finite())
}

/// The segment of rising steps that holds a value.
pub(super) fn segment(steps: &[f64], value: f64) -> Option<usize> {
    let inside = value >= *steps.first()? && value <= *steps.last()?;
    let above = steps.partition_point(|step| *step <= value);
    inside.then(|| above.clamp(1, steps.len() - 1) - 1)
}
