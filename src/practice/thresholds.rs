//! Every threshold of the checks in one table: default, unit, meaning, source.

use crate::trade::tolerance::DUST;
use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::trade::units::Millimetre;

macro_rules! thresholds {
    ($(#[doc = $doc:literal] $name:ident = $key:literal, $default:literal, $unit:literal, $source:literal;)+) => {
        /// A number that a check compares with; a practice may set its own.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Threshold { $(#[doc = $doc] $name),+ }

        impl Threshold {
            /// Every threshold.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];
            /// Name under which a practice sets it.
            pub const fn key(self) -> &'static str { match self { $(Self::$name => $key),+ } }
            /// Value where the practice has not set one.
            pub const fn default_value(self) -> f64 { match self { $(Self::$name => $default),+ } }
            /// What it is, one sentence.
            pub const fn meaning(self) -> &'static str { match self { $(Self::$name => $doc),+ } }
            /// Unit.
            pub const fn unit(self) -> &'static str { match self { $(Self::$name => $unit),+ } }
            /// Source of the default ("common practice" where nothing is published).
            pub const fn source(self) -> &'static str { match self { $(Self::$name => $source),+ } }
        }
    };
}

thresholds! {
    /// From this strength on a pair counts as strong.
    Strong = "strong-pair", 5.0, "D", "BS 2738-3 on presenting prescriptions, from memory";
    /// A change of a principal power from here on matters.
    PowerChange = "power-change", 0.12, "D", "ISO 21987:2017 power tolerance, from memory";
    /// Most a compensated power may differ from the worked-out one.
    PowerAgreement = "power-agreement", 0.13, "D", "half a quarter step, common practice";
    /// Months after which a prescription is questioned.
    RxMonths = "rx-months", 24.0, "months", "Sale of Optical Appliances Order of Council 1984 (UK)";
    /// Age above which a date of birth is questioned.
    BirthMost = "birth-most", 110.0, "years", "common practice";
    /// Months after which a child's measurements are not carried into another pair.
    ChildMonths = "child-months", 6.0, "months", "common practice";
    /// Months after which what the wearer answered is asked again before another order rests on it.
    AnswerMonths = "answer-months", 12.0, "months", "common practice";
    /// From this difference of a boxed size on, a frame of the same name is another one.
    FrameSize = "frame-size", 1.0, "mm", "common practice";
    /// Change of mean sphere worth a question.
    RxChangeSphere = "rx-change-sphere", 1.0, "D", "common practice";
    /// The same from the older age on.
    RxChangeSphereOlder = "rx-change-sphere-older", 0.75, "D", "common practice";
    /// The older age.
    OlderAge = "older-age", 65.0, "years", "common practice";
    /// Change of cylinder worth a question.
    RxChangeCylinder = "rx-change-cylinder", 0.5, "D", "common practice";
    /// Change of addition worth a question.
    RxChangeAddition = "rx-change-addition", 0.75, "D", "common practice";
    /// Change of the vertical prism of the pair worth a question.
    RxChangePrismVertical = "rx-change-prism-vertical", 1.0, "prism dioptres", "common practice";
    /// The same of the horizontal prism.
    RxChangePrismHorizontal = "rx-change-prism-horizontal", 2.0, "prism dioptres", "common practice";
    /// Least mean sphere of both for a sign to be suspected.
    SignSize = "sign-size", 0.75, "D", "common practice";
    /// How much better the exchanged eyes must fit the previous pair.
    ExchangeGain = "exchange-gain", 1.0, "D", "common practice";
    /// Least addition that is never too little.
    AdditionLeast = "addition-least", 0.5, "D", "common practice";
    /// How far an addition may lie below what the working distance asks at that age.
    AdditionBelow = "addition-below", 0.75, "D", "common practice";
    /// How far an addition may lie above what the working distance alone needs.
    AdditionAbove = "addition-above", 0.5, "D", "common practice";
    /// Better acuity below which an addition is not questioned.
    AdditionAcuity = "addition-acuity", 0.33, "decimal acuity", "6/18: stronger additions magnify, common practice";
    /// Difference of what an intermediate pair adds to the eyes' distance powers.
    IntermediateUnequal = "intermediate-unequal", 0.25, "D", "common practice";
    /// How far powers adapted to a task may exceed the addition, or what the distance alone needs.
    AdaptedOver = "adapted-over", 0.5, "D", "common practice";
    /// Least vertex distance.
    VertexLow = "vertex-low", 5.0, "mm", "common practice";
    /// Largest vertex distance.
    VertexHigh = "vertex-high", 25.0, "mm", "common practice";
    /// Difference of the eyes' vertex distances.
    VertexUnequal = "vertex-unequal", 1.5, "mm", "common practice: a reading is good to 1 mm";
    /// Least total centration distance of an adult.
    AdultPdLow = "adult-pd-low", 53.0, "mm", "ANSUR II 1st percentile of women, common practice";
    /// Largest total centration distance of an adult.
    AdultPdHigh = "adult-pd-high", 74.0, "mm", "ANSUR II 99th percentile of men, common practice";
    /// How far a child's total centration distance may lie from the usual one at that age.
    ChildPd = "child-pd", 6.0, "mm", "common practice";
    /// Least centration distance of one eye of an adult.
    EyePdLow = "eye-pd-low", 24.0, "mm", "common practice";
    /// Largest centration distance of one eye of an adult.
    EyePdHigh = "eye-pd-high", 40.0, "mm", "common practice";
    /// Difference of the binocular distance from the sum.
    PdSum = "pd-sum", 1.0, "mm", "common practice";
    /// Difference of the eyes' centration distances.
    PdAsymmetry = "pd-asymmetry", 4.0, "mm", "common practice";
    /// The same, from here on as a note.
    PdAsymmetryNote = "pd-asymmetry-note", 2.0, "mm", "common practice";
    /// Difference of a second reading of a distance.
    PdRepeat = "pd-repeat", 1.0, "mm", "McMahon et al. 2012, limits of repeatability of a pupil gauge";
    /// Difference of the near distance from the worked-out one.
    PdNear = "pd-near", 1.5, "mm", "common practice";
    /// Near distance that counts as the distance one read again: within.
    PdNearSame = "pd-near-same", 0.25, "mm", "common practice";
    /// Convergence from which the distance one cannot be the near one.
    PdNearClear = "pd-near-clear", 1.0, "mm", "common practice";
    /// Difference from the previous pair's centration distance.
    CdChange = "cd-change", 2.0, "mm", "common practice";
    /// Second reading that confirms such a difference: within.
    CdAgree = "cd-agree", 1.0, "mm", "McMahon et al. 2012, limits of repeatability of a pupil gauge";
    /// Smallest accuracy budget that one reading is enough for.
    BudgetOnce = "budget-once", 1.0, "mm", "McMahon et al. 2012, limits of repeatability of a pupil gauge";
    /// Difference of the eyes' heights.
    HeightAsymmetry = "height-asymmetry", 2.0, "mm", "common practice";
    /// Difference of a second reading of a height.
    HeightRepeat = "height-repeat", 1.5, "mm", "two ruler readings differ by up to 1.3 mm, common practice";
    /// Second readings that confirm a difference of the eyes' heights: within.
    HeightAgree = "height-agree", 1.0, "mm", "common practice";
    /// Least height of a progressive lens whose design states none.
    HeightLow = "height-low", 16.0, "mm", "common practice";
    /// Least depth above the fitting cross.
    HeightAbove = "height-above", 10.0, "mm", "common practice";
    /// Least pantoscopic angle.
    TiltLow = "tilt-low", 0.0, "degrees", "common practice";
    /// Largest pantoscopic angle.
    TiltHigh = "tilt-high", 18.0, "degrees", "common practice";
    /// Least pantoscopic angle of a progressive pair.
    ProgressiveTiltLow = "progressive-tilt-low", 4.0, "degrees", "common practice";
    /// Largest pantoscopic angle of a progressive pair.
    ProgressiveTiltHigh = "progressive-tilt-high", 14.0, "degrees", "common practice";
    /// Difference of a second reading of the tilt.
    TiltRepeat = "tilt-repeat", 4.0, "degrees", "Garcia-Espinilla et al. 2022";
    /// Largest face-form angle without compensation.
    FaceFormHigh = "face-form-high", 10.0, "degrees", "common practice";
    /// Frame curve from which the face form must be known.
    WrapCurve = "wrap-curve", 6.5, "D", "common practice";
    /// Shift of a line of sight by prescribed prism.
    SightShift = "sight-shift", 1.0, "mm", "common practice";
    /// Age below which a frame is looked at as a child's.
    ChildFitAge = "child-fit-age", 12.0, "years", "common practice";
    /// Largest pantoscopic angle of a child's frame.
    ChildFitTilt = "child-fit-tilt", 8.0, "degrees", "common practice";
    /// Largest as-worn error of a principal power, and of cylinder.
    AsWornError = "as-worn-error", 0.25, "D", "common practice: the smallest step of a prescription";
    /// The same, from here on as a note.
    AsWornNote = "as-worn-note", 0.12, "D", "ISO 21987:2017 power tolerance, from memory";
    /// Boxed width: least.
    BoxALow = "box-a-low", 34.0, "mm", "common practice";
    /// Boxed width: largest.
    BoxAHigh = "box-a-high", 62.0, "mm", "common practice";
    /// Boxed height: least.
    BoxBLow = "box-b-low", 18.0, "mm", "common practice";
    /// Boxed height: largest.
    BoxBHigh = "box-b-high", 58.0, "mm", "common practice";
    /// Distance between lenses: least.
    DblLow = "dbl-low", 12.0, "mm", "common practice";
    /// Distance between lenses: largest.
    DblHigh = "dbl-high", 26.0, "mm", "common practice";
    /// How much the head may be wider than the front, straight sides.
    NarrowStraight = "narrow-straight", 8.0, "mm", "common practice: sides open outwards";
    /// The same, curved sides.
    NarrowCurved = "narrow-curved", 14.0, "mm", "common practice: sides open outwards";
    /// How much the front may be wider than the head.
    Wide = "wide", 6.0, "mm", "common practice";
    /// Frame curve from which the lens must be curved like it.
    CurveFrom = "curve-from", 6.0, "D", "common practice: flatter frames give way";
    /// How much flatter than the frame the lens may be.
    CurveFlatter = "curve-flatter", 2.5, "D", "common practice";
    /// How much steeper than the frame the lens may be.
    CurveSteeper = "curve-steeper", 4.0, "D", "common practice";
    /// Least length of side behind the bend.
    BehindBend = "behind-bend", 20.0, "mm", "common practice";
    /// Difference of the lengths to bend.
    BendAsymmetry = "bend-asymmetry", 5.0, "mm", "common practice";
    /// The same, from here on as a note.
    BendAsymmetryNote = "bend-asymmetry-note", 2.0, "mm", "common practice";
    /// Vertical prism difference at the reading point.
    AnisoNear = "aniso-near", 1.0, "prism dioptres", "McCarthy, anisometropia; common practice";
    /// Difference from the previous pair's that counts as the same.
    AnisoSame = "aniso-same", 0.5, "prism dioptres", "common practice";
    /// Difference of image size.
    Aniseikonia = "aniseikonia", 3.0, "%", "Duane's, chapter 47: symptoms from 3 to 5 %";
    /// How much more than the previous pair's counts as the same.
    AniseikoniaSame = "aniseikonia-same", 1.0, "percent points", "common practice";
    /// Prism on one lens that is worth splitting.
    PrismSplit = "prism-split", 3.0, "prism dioptres", "common practice";
    /// Decentration of a lens of some power, in or out.
    Decentration = "decentration", 6.0, "mm", "common practice";
    /// The same of near pairs, at their near centres.
    DecentrationNear = "decentration-near", 8.0, "mm", "common practice";
    /// The power from which it counts.
    DecentrationPower = "decentration-power", 2.0, "D", "common practice";
    /// Edge thickness.
    Edge = "edge", 7.0, "mm", "common practice";
    /// Edge thickness of half and rimless frames.
    EdgeOpen = "edge-open", 6.0, "mm", "common practice";
    /// Index from which no thinner material is to be had.
    EdgeNoteIndex = "edge-note-index", 1.7, "refractive index", "common practice";
    /// Least transmittance for driving.
    DrivingTransmittance = "driving-transmittance", 75.0, "%", "ISO 12312-1 and College of Optometrists guidance";
    /// Age from which a wearer may drive.
    DrivingAge = "driving-age", 16.0, "years", "Road Traffic Act 1988 s101 (UK): mopeds from 16";
    /// Transmittance from which down a tint is not for general use.
    TintDark = "tint-dark", 3.0, "%", "ISO 12312-1 filter categories, from memory";
    /// Days within which the same order again is questioned.
    DuplicateDays = "duplicate-days", 14.0, "days", "common practice";
    /// Change of a power from which on a remake is another order.
    RemakePower = "remake-power", 0.12, "D", "half a quarter step, common practice";
    /// The same of a length.
    RemakeLength = "remake-length", 0.5, "mm", "common practice";
    /// The same of an angle.
    RemakeAngle = "remake-angle", 2.0, "degrees", "common practice";
    /// Age below which the restricted rules hold.
    RestrictedAge = "restricted-age", 16.0, "years", "Opticians Act 1989 s27 (UK)";
    /// Difference of the stated powers from our own compensation.
    LaboratoryDoubt = "laboratory-doubt", 0.25, "D", "common practice";
    /// Prescribed component from which a reversed base is said.
    PrismReversed = "prism-reversed", 0.5, "prism dioptres", "common practice";
    /// Prism read the other way from which its base counts as reversed.
    PrismReversedRead = "prism-reversed-read", 0.12, "prism dioptres", "half the smallest step of 0.25, common practice";
    /// Difference of prism control from what was ordered.
    PrismControlMade = "prism-control-made", 0.5, "prism dioptres", "common practice";
    /// Share of a limit from which a value is near it.
    NearLimit = "near-limit", 80.0, "%", "common practice";
    /// What a focimeter may be out by within 5 D.
    Focimeter5 = "focimeter-5", 0.06, "D", "Whitney, Focimetry issues";
    /// The same from 5 to 10 D.
    Focimeter10 = "focimeter-10", 0.09, "D", "ISO 8598, from memory";
    /// The same beyond 10 D.
    Focimeter15 = "focimeter-15", 0.12, "D", "ISO 8598, from memory";
    /// Days within which the same fault from one laboratory is said.
    FaultDays = "fault-days", 90.0, "days", "common practice";
    /// Days after which a pair that is ready counts as not collected.
    UncollectedDays = "uncollected-days", 28.0, "days", "common practice";
    /// Height on the face against the ordered one.
    FitHeight = "fit-height", 1.0, "mm", "ISO 21987:2017 position limit";
    /// Lines that distance acuity with the pair may lie below that of the sight test.
    AcuityLines = "acuity-lines", 2.0, "lines", "common practice";
    /// Tilt on the face against the ordered one.
    FitTilt = "fit-tilt", 5.0, "degrees", "Garcia-Espinilla et al. 2022";
}

/// The thresholds in force: the defaults, less what the practice has set.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[serde(transparent)]
pub struct Thresholds(BTreeMap<String, f64>);

/// What an older version kept and this one does not know any more is left out: nothing reads it, and a
/// setting that comes to nothing is not to be shown as set.
impl<'de> Deserialize<'de> for Thresholds {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let mut kept = BTreeMap::<String, f64>::deserialize(d)?;
        kept.retain(|key, _| Threshold::ALL.iter().any(|t| t.key() == key));
        Ok(Self(kept))
    }
}

impl Thresholds {
    /// Returns the value in force.
    pub fn get(&self, threshold: Threshold) -> f64 {
        if self.0.is_empty() {
            return threshold.default_value();
        }
        self.0
            .get(threshold.key())
            .copied()
            .unwrap_or_else(|| threshold.default_value())
    }

    /// Whether the practice has set its own.
    pub fn is_own(&self, threshold: Threshold) -> bool {
        self.0.contains_key(threshold.key())
    }

    /// Whether a pair is worn at a vertex distance at all, by the practice's range.
    pub fn is_worn_at(&self, vertex: Millimetre) -> bool {
        let (least, most) = (
            self.get(Threshold::VertexLow),
            self.get(Threshold::VertexHigh),
        );
        (least - DUST..=most + DUST).contains(&vertex.get())
    }

    /// Takes the practice's own value back.
    pub fn clear(&mut self, threshold: Threshold) {
        self.0.remove(threshold.key());
    }

    /// Sets the practice's own value.
    pub fn set(&mut self, threshold: Threshold, value: f64) {
        self.0.insert(threshold.key().to_owned(), value);
    }
}
