//! A lens power in its two forms: as it is written, and as a 2x2 matrix to compute with.
//!
//! Conventions (TABO axes; x horizontal, y up, as seen by someone facing the wearer) and the
//! matrix are those of Keating (1980) and Harris; see `docs/formulas.md`.

/// A sphero-cylindrical power as written, in either cylinder form.
///
/// `sphere_d` and `cylinder_d` in dioptres, `axis_deg` in degrees, 0 < axis <= 180 (a result's axis
/// is always in that range; 180 when there is no cylinder).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Rx {
    /// Power along the axis meridian, dioptres.
    pub sphere_d: f64,
    /// Power across the axis less the sphere, dioptres; either sign.
    pub cylinder_d: f64,
    /// TABO axis, degrees.
    pub axis_deg: f64,
}

/// A power as the symmetric matrix that turns a place on a lens into the prism found there.
///
/// `xx = S + C sin^2 a`, `xy = -C sin a cos a`, `yy = S + C cos^2 a`, all in dioptres.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PowerMatrix {
    /// Power along the horizontal.
    pub xx: f64,
    /// The cross term: what a horizontal shift gives vertically.
    pub xy: f64,
    /// Power along the vertical.
    pub yy: f64,
}

/// Cylinder below this size (dioptres) is the rounding of a sphere, not a direction.
const NO_CYLINDER_D: f64 = 1e-12;

impl Rx {
    /// Returns a power from sphere, cylinder and axis.
    pub const fn new(sphere_d: f64, cylinder_d: f64, axis_deg: f64) -> Self {
        Self {
            sphere_d,
            cylinder_d,
            axis_deg,
        }
    }

    /// Returns a spherical power.
    pub const fn sphere(sphere_d: f64) -> Self {
        Self::new(sphere_d, 0.0, 180.0)
    }

    /// Returns the power as a matrix.
    pub fn matrix(self) -> PowerMatrix {
        let (sin, cos) = self.axis_deg.to_radians().sin_cos();
        PowerMatrix {
            xx: self.sphere_d + self.cylinder_d * sin * sin,
            xy: -self.cylinder_d * sin * cos,
            yy: self.sphere_d + self.cylinder_d * cos * cos,
        }
    }

    /// Returns the same power with a cylinder of zero or less.
    #[must_use]
    pub fn minus_form(self) -> Self {
        if self.cylinder_d > 0.0 {
            self.crossed()
        } else {
            self.normalised()
        }
    }

    /// Returns the same power with a cylinder of zero or more.
    #[must_use]
    pub fn plus_form(self) -> Self {
        if self.cylinder_d < 0.0 {
            self.crossed()
        } else {
            self.normalised()
        }
    }

    /// Returns the two principal powers: along the axis, and across it, in dioptres.
    pub fn principal_powers(self) -> (f64, f64) {
        (self.sphere_d, self.sphere_d + self.cylinder_d)
    }

    /// Returns the principal power of larger size, with its sign, in dioptres.
    pub fn strongest_d(self) -> f64 {
        let (along, across) = self.principal_powers();
        if across.abs() > along.abs() {
            across
        } else {
            along
        }
    }

    /// Returns the spherical equivalent (mean power), in dioptres.
    pub fn mean_d(self) -> f64 {
        self.sphere_d + self.cylinder_d / 2.0
    }

    /// Returns the power with another power added at the same axis (an addition, say), in dioptres.
    #[must_use]
    pub fn plus_sphere(self, d: f64) -> Self {
        Self {
            sphere_d: self.sphere_d + d,
            ..self
        }
    }

    fn crossed(self) -> Self {
        Self::new(
            self.sphere_d + self.cylinder_d,
            -self.cylinder_d,
            normal_axis(self.axis_deg + 90.0),
        )
    }

    fn normalised(self) -> Self {
        let axis_deg = if self.cylinder_d.abs() < NO_CYLINDER_D {
            180.0
        } else {
            normal_axis(self.axis_deg)
        };
        Self { axis_deg, ..self }
    }
}

/// Returns an angle as an axis: 0 < axis <= 180. The rounding of a computed 0 is 180 as well.
pub(crate) fn normal_axis(deg: f64) -> f64 {
    let a = deg.rem_euclid(180.0);
    if a < 1e-9 { 180.0 } else { a }
}

impl PowerMatrix {
    /// Returns the power as written in minus-cylinder form.
    pub fn rx(self) -> Rx {
        let mean = f64::midpoint(self.xx, self.yy);
        let half_difference = (self.xx - self.yy) / 2.0;
        let radius = half_difference.hypot(self.xy);
        if 2.0 * radius < NO_CYLINDER_D {
            return Rx::sphere(mean);
        }
        // With C < 0: half_difference = -(C/2) cos 2a = radius cos 2a, xy = -(C/2) sin 2a = radius sin 2a.
        let axis_deg = normal_axis(self.xy.atan2(half_difference).to_degrees() / 2.0);
        Rx::new(mean + radius, -2.0 * radius, axis_deg)
    }

    /// Returns the largest size of a principal power, in dioptres.
    pub fn largest_d(self) -> f64 {
        let mean = f64::midpoint(self.xx, self.yy);
        mean.abs() + ((self.xx - self.yy) / 2.0).hypot(self.xy)
    }

    /// Returns the size of the cylinder, in dioptres.
    pub fn cylinder_size_d(self) -> f64 {
        2.0 * ((self.xx - self.yy) / 2.0).hypot(self.xy)
    }

    /// Returns the power in axes turned anticlockwise by the angle of this cosine and sine.
    #[must_use]
    pub fn turned(self, cos: f64, sin: f64) -> Self {
        let (cc, cs, ss) = (cos * cos, cos * sin, sin * sin);
        Self {
            xx: cc * self.xx + 2.0 * cs * self.xy + ss * self.yy,
            xy: cs * (self.yy - self.xx) + (cc - ss) * self.xy,
            yy: ss * self.xx - 2.0 * cs * self.xy + cc * self.yy,
        }
    }

    /// Returns the power in another direction of looking: every entry times `k`.
    #[must_use]
    pub fn scaled(self, k: f64) -> Self {
        Self {
            xx: self.xx * k,
            xy: self.xy * k,
            yy: self.yy * k,
        }
    }
}

impl std::ops::Add for PowerMatrix {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self {
            xx: self.xx + o.xx,
            xy: self.xy + o.xy,
            yy: self.yy + o.yy,
        }
    }
}

impl std::ops::Sub for PowerMatrix {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        self + o.scaled(-1.0)
    }
}
