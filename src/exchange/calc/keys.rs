//! Every numeric key of a request with the range in which its value is accepted.
//!
//! The ranges are wide: they keep out slips of the pen and of the unit, not rare wearers.

/// A key that holds a number.
#[derive(Debug, Clone, Copy)]
pub(crate) struct NumberKey {
    /// Its name in a request.
    pub name: &'static str,
    /// The least that is accepted, in its unit.
    pub low: f64,
    /// The most that is accepted, in its unit.
    pub high: f64,
    /// Its unit in words.
    pub unit: &'static str,
}

macro_rules! keys {
    ($($id:ident = $name:literal, $low:literal to $high:literal, $unit:literal;)*) => {
        $(pub(super) const $id: NumberKey = NumberKey { name: $name, low: $low, high: $high, unit: $unit };)*
        /// All of them, to find one by its name.
        pub(super) const ALL: &[NumberKey] = &[$($id),*];
    };
}

keys! {
    SPHERE_D = "sphere_d", -60.0 to 60.0, "D";
    CYLINDER_D = "cylinder_d", -30.0 to 30.0, "D";
    AXIS_DEG = "axis_deg", 0.0 to 180.0, "degrees";
    MERIDIAN_DEG = "meridian_deg", -360.0 to 360.0, "degrees";
    FROM_MM = "from_mm", 0.0 to 50.0, "mm";
    TO_MM = "to_mm", 0.0 to 50.0, "mm";
    STEP_D = "step_d", 0.001 to 1.0, "D";
    IN_MM = "in_mm", -50.0 to 50.0, "mm";
    UP_MM = "up_mm", -50.0 to 50.0, "mm";
    BASE_IN_DELTA = "base_in_delta", -60.0 to 60.0, "prism dioptres";
    BASE_UP_DELTA = "base_up_delta", -60.0 to 60.0, "prism dioptres";
    AMOUNT_DELTA = "amount_delta", 0.0 to 60.0, "prism dioptres";
    BASE_DEG = "base_deg", 0.0 to 360.0, "degrees";
    A_MM = "a_mm", 10.0 to 100.0, "mm";
    B_MM = "b_mm", 10.0 to 100.0, "mm";
    DBL_MM = "dbl_mm", 1.0 to 60.0, "mm";
    ED_MM = "ed_mm", 10.0 to 140.0, "mm";
    CD_MM = "cd_mm", 10.0 to 60.0, "mm";
    HEIGHT_MM = "height_mm", 0.0 to 100.0, "mm";
    ALLOWANCE_MM = "allowance_mm", 0.0 to 20.0, "mm";
    WORKING_MM = "working_mm", 50.0 to 10000.0, "mm";
    VERTEX_MM = "vertex_mm", 0.0 to 50.0, "mm";
    ROTATION_MM = "rotation_mm", 5.0 to 30.0, "mm";
    PUPIL_MM = "pupil_mm", 0.0 to 10.0, "mm";
    POWER_D = "power_d", -60.0 to 60.0, "D";
    INDEX = "index", 1.3 to 2.5, "(refractive index)";
    PANTOSCOPIC_DEG = "pantoscopic_deg", -45.0 to 45.0, "degrees";
    FACE_FORM_DEG = "face_form_deg", -45.0 to 45.0, "degrees";
    FRONT_D = "front_d", -40.0 to 40.0, "D";
    BACK_D = "back_d", -60.0 to 60.0, "D";
    CENTRE_MM = "centre_mm", 0.0 to 50.0, "mm";
    THINNEST_MM = "thinnest_mm", 0.0 to 20.0, "mm";
    OC_IN_MM = "oc_in_mm", -50.0 to 50.0, "mm";
    OC_UP_MM = "oc_up_mm", -50.0 to 50.0, "mm";
    BASE_D = "base_d", -30.0 to 30.0, "D";
    BASE_INDEX = "base_index", 1.3 to 2.5, "(refractive index)";
    DENSITY = "density", 0.5 to 10.0, "g/cm3";
    DROP_MM = "drop_mm", -60.0 to 60.0, "mm";
    INSET_MM = "inset_mm", -30.0 to 30.0, "mm";
    ADDITION_D = "addition_d", 0.0 to 20.0, "D";
    AMPLITUDE_D = "amplitude_d", 0.0 to 25.0, "D";
    AGE_YEARS = "age_years", 0.0 to 120.0, "years";
    POWER_DROP_D = "power_drop_d", 0.0 to 20.0, "D";
    TOLERATED_DELTA = "tolerated_delta", 0.0 to 60.0, "prism dioptres";
    OC_DROP_MM = "oc_drop_mm", -60.0 to 60.0, "mm";
    OC_INSET_MM = "oc_inset_mm", -30.0 to 30.0, "mm";
    EDGE_MERIDIAN_DEG = "meridians_deg", 0.0 to 360.0, "degrees";
    TOP_TO_CENTRE_MM = "top_to_centre_mm", -50.0 to 50.0, "mm";
}

impl NumberKey {
    /// Returns the key of that name.
    pub(crate) fn named(name: &str) -> Option<&'static Self> {
        ALL.iter().find(|k| k.name == name)
    }

    /// Returns the key that the last part of a path names, such as `right.cd_mm`.
    pub(crate) fn of_path(path: &str) -> Option<&'static Self> {
        Self::named(path.rsplit('.').next()?)
    }

    /// Returns its unit as it is written after a number; empty where there is none.
    pub(crate) fn unit_sign(&self) -> &'static str {
        match self.unit {
            "degrees" => "°",
            "prism dioptres" => "Δ",
            "(refractive index)" => "",
            "g/cm3" => "g/cm³",
            unit => unit,
        }
    }

    /// Returns the accepted range as a phrase.
    pub(crate) fn range(&self) -> String {
        format!("accepted are {} to {} {}", self.low, self.high, self.unit)
    }
}
