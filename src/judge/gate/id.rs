//! The fixed ids of the checks, as files, scripts and history know them.

use std::fmt;

use serde::{Serialize, Serializer};

macro_rules! check_ids {
    ($($name:ident = $word:literal;)+) => {
        /// The id of a check.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum CheckId { $(#[doc = $word] $name),+ }

        impl CheckId {
            /// Every id, in the order of the catalogue.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];

            /// Returns the id as files and scripts write it.
            pub const fn word(self) -> &'static str {
                match self { $(Self::$name => $word),+ }
            }
        }
    };
}

check_ids! {
    RxMissing = "rx-missing";
    RxForm = "rx-form";
    BirthUnasked = "birth-unasked";
    BirthUnlikely = "birth-unlikely";
    RxExpired = "rx-expired";
    RxChange = "rx-change";
    RxSignSuspect = "rx-sign-suspect";
    EyesExchangedSuspect = "eyes-exchanged-suspect";
    AdditionMissing = "addition-missing";
    AdditionUnequal = "addition-unequal";
    AdditionUnlikely = "addition-unlikely";
    DaysImpossible = "days-impossible";
    VertexRange = "vertex-range";
    BvdMissing = "bvd-missing";
    BvdUnmeasured = "bvd-unmeasured";
    BvdMismatch = "bvd-mismatch";
    BvdUnequal = "bvd-unequal";
    PowersNeedRegistrant = "powers-need-registrant";
    PowersDiffer = "powers-differ";
    AdaptedUnreasoned = "adapted-unreasoned";
    CompensatedTwice = "compensated-twice";
    CompensationUnmeasured = "compensation-unmeasured";
    IntermediateUnequal = "intermediate-unequal";
    CentrationMissing = "centration-missing";
    CentrationMethod = "centration-method";
    PdRange = "pd-range";
    PdSum = "pd-sum";
    PdAsymmetry = "pd-asymmetry";
    PdRepeat = "pd-repeat";
    PdNear = "pd-near";
    CdChange = "cd-change";
    PdWithDeviation = "pd-with-deviation";
    MeasureTwice = "measure-twice";
    CarriedForeign = "carried-foreign";
    CarriedStale = "carried-stale";
    HeightMissing = "height-missing";
    HeightImpossible = "height-impossible";
    HeightLow = "height-low";
    HeightAsymmetry = "height-asymmetry";
    HeightRepeat = "height-repeat";
    HeightMinimum = "height-minimum";
    HeightAbove = "height-above";
    TiltRange = "tilt-range";
    TiltRepeat = "tilt-repeat";
    PrismMovesSight = "prism-moves-sight";
    ChildFit = "child-fit";
    FaceFormRange = "face-form-range";
    AsWornError = "as-worn-error";
    FrameMissing = "frame-missing";
    FrameBoxed = "frame-boxed";
    FrameNarrow = "frame-narrow";
    FrameWide = "frame-wide";
    FrameUnnamed = "frame-unnamed";
    FrameUnseen = "frame-unseen";
    CurveMismatch = "curve-mismatch";
    SideShort = "side-short";
    BendAsymmetry = "bend-asymmetry";
    AllergyUnasked = "allergy-unasked";
    CarriedAnswers = "carried-answers";
    AllergyNickel = "allergy-nickel";
    AllergyPad = "allergy-pad";
    AllergyPlastic = "allergy-plastic";
    AllergyUnknown = "allergy-unknown";
    NickelWorn = "nickel-worn";
    FrameCondition = "frame-condition";
    RestrictedUnder16 = "restricted-under-16";
    RestrictedSightImpaired = "restricted-sight-impaired";
    SightUnasked = "sight-unasked";
    DrivingUnasked = "driving-unasked";
    ImpactChild = "impact-child";
    ImpactOneEye = "impact-one-eye";
    ImpactWork = "impact-work";
    LensesMissing = "lenses-missing";
    AnisoNear = "aniso-near";
    Aniseikonia = "aniseikonia";
    PrismUnsplit = "prism-unsplit";
    PrismOpposed = "prism-opposed";
    BlankSmall = "blank-small";
    DecentrationLarge = "decentration-large";
    EdgeThick = "edge-thick";
    MaterialRim = "material-rim";
    TintDriving = "tint-driving";
    TintContradicts = "tint-contradicts";
    TintDark = "tint-dark";
    MeasuredBy = "measured-by";
    OrderIncomplete = "order-incomplete";
    LensUnnamed = "lens-unnamed";
    DueLate = "due-late";
    QuestionOpen = "question-open";
    Unsigned = "unsigned";
    OrderDuplicate = "order-duplicate";
    RemakeUntried = "remake-untried";
    RemakeSame = "remake-same";
    ReadingsMissing = "readings-missing";
    LaboratoryPowersMissing = "laboratory-powers-missing";
    LaboratoryPowersDoubtful = "laboratory-powers-doubtful";
    LensPower = "lens-power";
    LensCylinder = "lens-cylinder";
    LensAxis = "lens-axis";
    LensAddition = "lens-addition";
    PairPrismHorizontal = "pair-prism-horizontal";
    PairPrismVertical = "pair-prism-vertical";
    PrismReversed = "prism-reversed";
    CentrationMade = "centration-made";
    HeightMade = "height-made";
    HeightDifference = "height-difference";
    SegmentTilt = "segment-tilt";
    EyesExchanged = "eyes-exchanged";
    CentreThickness = "centre-thickness";
    BaseCurve = "base-curve";
    SurfaceMarked = "surface-marked";
    MarkingsWrong = "markings-wrong";
    Unconfirmed = "unconfirmed";
    FrameUntrued = "frame-untrued";
    MountingUnsound = "mounting-unsound";
    PrismControlMade = "prism-control-made";
    NearLimit = "near-limit";
    IdentityUnchecked = "identity-unchecked";
    HandoverBy = "handover-by";
    RestrictedHandover = "restricted-handover";
    FitUnrecorded = "fit-unrecorded";
    NotFitted = "not-fitted";
    FitVertex = "fit-vertex";
    FitHeight = "fit-height";
    FitTilt = "fit-tilt";
    FitBearing = "fit-bearing";
    FrameNotTheOne = "frame-not-the-one";
    HeightsBeforeAdjusting = "heights-before-adjusting";
    DoesNotStay = "does-not-stay";
    AcuityMissing = "acuity-missing";
    AcuityWorse = "acuity-worse";
    NotComfortable = "not-comfortable";
    SeesDouble = "sees-double";
    NumberPlate = "number-plate";
    AdviceMissing = "advice-missing";
}

impl CheckId {
    /// Returns the id of a word; `None` for a check that this version does not have.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|id| id.word() == word)
    }
}

impl fmt::Display for CheckId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

impl Serialize for CheckId {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_str(self.word())
    }
}

impl PartialEq<str> for CheckId {
    fn eq(&self, word: &str) -> bool {
        self.word() == word
    }
}

impl PartialEq<&str> for CheckId {
    fn eq(&self, word: &&str) -> bool {
        self.word() == *word
    }
}
