//! A power as the vector M, J0, J45, in which powers add and their distance is the blur they cause.
//!
//! Source: Thibos, Wheeler and Horner, "Power vectors: an application of Fourier analysis to the
//! description and statistical analysis of refractive error", Optometry and Vision Science 74
//! (1997) 367-375.

use super::{PowerMatrix, Rx};

/// A power vector; all three parts in dioptres.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PowerVector {
    /// Mean power, `S + C/2`.
    pub m_d: f64,
    /// Power of the crossed cylinder at 180 and 90, `-(C/2) cos 2a`.
    pub j0_d: f64,
    /// Power of the crossed cylinder at 45 and 135, `-(C/2) sin 2a`.
    pub j45_d: f64,
}

impl PowerVector {
    /// Returns the vector of a power: `M = S + C/2`, `J0 = -(C/2) cos 2a`, `J45 = -(C/2) sin 2a`.
    #[must_use]
    pub fn of(rx: Rx) -> Self {
        let (sin, cos) = (2.0 * rx.axis_deg).to_radians().sin_cos();
        let half = -rx.cylinder_d / 2.0;
        Self {
            m_d: rx.mean_d(),
            j0_d: half * cos,
            j45_d: half * sin,
        }
    }

    /// Returns the length of the vector, `sqrt(M^2 + J0^2 + J45^2)`, in dioptres: the blur an eye
    /// without accommodation has when this power is missing.
    #[must_use]
    pub fn blur_d(self) -> f64 {
        self.m_d.hypot(self.j0_d).hypot(self.j45_d)
    }

    /// Returns the same power as a matrix: `xx = M + J0`, `xy = J45`, `yy = M - J0`.
    #[must_use]
    pub fn matrix(self) -> PowerMatrix {
        PowerMatrix {
            xx: self.m_d + self.j0_d,
            xy: self.j45_d,
            yy: self.m_d - self.j0_d,
        }
    }

    /// Returns the power as written in minus-cylinder form.
    #[must_use]
    pub fn rx(self) -> Rx {
        self.matrix().rx()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cylinder_at_180_is_all_j0() {
        let v = PowerVector::of(Rx::new(-1.0, -2.0, 180.0));
        assert!(
            (v.m_d + 2.0).abs() < 1e-12 && (v.j0_d - 1.0).abs() < 1e-12 && v.j45_d.abs() < 1e-12
        );
    }
}
