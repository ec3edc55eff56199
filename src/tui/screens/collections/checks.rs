//! The checks of a handover in their order, and what answers each.

use crate::trade::tolerance::DUST;
use chrono::NaiveDate;
use serde_json::Value;

use crate::job::fields::{self, FieldKind, at};
use crate::job::{
    Advice, Design, HandoverMethod, Job, Purpose as PairPurpose, Section, StaffRoll, moves_lenses,
};
use crate::judge::derive::powers::{has_prism, strength_d};
use crate::judge::rules::advice::{Point, advice};
use crate::judge::rules::restricted_wearer::is_restricted;
use crate::practice::{Practice, Threshold, Way};
use crate::trade::eye::Eye;

/// One check of the handover.
#[derive(Debug, Clone)]
pub struct HandoverCheck {
    /// Path of the field that keeps the answer.
    pub path: &'static str,
    /// What is checked.
    pub question: &'static str,
    /// How it is done, or what to look at.
    pub hint: &'static str,
    /// The topic of advice, when the answer is one of several topics.
    pub topic: Option<Advice>,
    /// What is said under the topic, and why this wearer hears it.
    pub points: Vec<Point>,
}

/// How the pair reaches its wearer.
const METHOD: &str = at!(handover.method).full();
/// Who supervises.
const SUPERVISOR: &str = at!(handover.supervised_by).full();

/// Which pairs a step is for.
type For = fn(&Job) -> bool;

const ALL: For = |_| true;
const SEGMENT: For = |job| job.lenses.design.is_some_and(Design::has_segment);
const NO_SEGMENT: For = |job| !SEGMENT(job);
const INTERMEDIATE: For = |job| {
    job.lenses.purpose == Some(PairPurpose::Intermediate)
        || matches!(
            job.lenses.design,
            Some(Design::Trifocal | Design::Progressive | Design::Office)
        )
};
const PRISM: For = has_prism;
const DRIVES: For = |job| {
    job.wearer.drives == Some(true)
        && job.lenses.design != Some(Design::Office)
        && !job.lenses.is_near_single_vision()
};

/// The checks in the order in which they are done at the dispensing table: each rests on those
/// before it, so that nothing is adjusted once the heights are read.
const CHECKS: &[(&str, &str, &str, For)] = &[
    (
        at!(handover.identity_checked).full(),
        "Two details of the wearer checked",
        "name and date of birth, said by the wearer",
        ALL,
    ),
    (
        at!(handover.frame_checked).full(),
        "Frame print is that of the job",
        "read the print inside the side",
        ALL,
    ),
    (
        at!(handover.pads_level).full(),
        "Bridge or pads bear full and level",
        "put it on the wearer yourself, stand back: level, brow line; then the bridge",
        ALL,
    ),
    (
        at!(handover.temples_free).full(),
        "Width: no grip at the temples",
        "the gap is even on both sides, nothing springs out",
        ALL,
    ),
    (
        at!(handover.let_back_even).full(),
        "Let-back equal on both sides",
        "from above: both lenses equally far from the brow",
        ALL,
    ),
    (
        at!(handover.pantoscopic_deg).full(),
        "Pantoscopic angle",
        "",
        ALL,
    ),
    (
        at!(handover.face_form_deg).full(),
        "Face-form angle",
        "",
        ALL,
    ),
    (
        at!(handover.right.length_to_bend_mm).full(),
        "Length to bend as set, right",
        "",
        ALL,
    ),
    (
        at!(handover.left.length_to_bend_mm).full(),
        "Length to bend as set, left",
        "",
        ALL,
    ),
    (
        at!(handover.drop_follows).full(),
        "Bend at the ear point, drop follows",
        "the bend exactly where the ear begins; the drop along the bone, no point pressure",
        ALL,
    ),
    (
        at!(handover.sides_even).full(),
        "Sides press evenly",
        "",
        ALL,
    ),
    (
        at!(handover.no_pressure_marks).full(),
        "No pressure marks",
        "",
        ALL,
    ),
    (
        at!(handover.stays).full(),
        "Stays: shake, smile, look down",
        "cheeks and lashes clear, nothing slides",
        ALL,
    ),
    (
        at!(handover.right.vertex_mm).full(),
        "Vertex distance, right",
        "",
        ALL,
    ),
    (
        at!(handover.left.vertex_mm).full(),
        "Vertex distance, left",
        "",
        ALL,
    ),
    (
        at!(handover.right.height_mm).full(),
        "Cross or centre to pupil, right",
        "the marks still on the lens; adjusted afterwards means read again",
        NO_SEGMENT,
    ),
    (
        at!(handover.left.height_mm).full(),
        "Cross or centre to pupil, left",
        "the marks still on the lens; adjusted afterwards means read again",
        NO_SEGMENT,
    ),
    (
        at!(handover.right.segment_height_mm).full(),
        "Segment height on the face, right",
        "to the lower lid or as ordered; adjusted afterwards means read again",
        SEGMENT,
    ),
    (
        at!(handover.left.segment_height_mm).full(),
        "Segment height on the face, left",
        "to the lower lid or as ordered; adjusted afterwards means read again",
        SEGMENT,
    ),
    (
        at!(handover.distance_acuity).full(),
        "Marks off: distance acuity",
        "right, left, both",
        ALL,
    ),
    (
        at!(handover.near_acuity).full(),
        "Near acuity",
        "at the real distance",
        ALL,
    ),
    (
        at!(handover.intermediate_acuity).full(),
        "Intermediate acuity",
        "at the real distance of screen or desk",
        INTERMEDIATE,
    ),
    (
        at!(handover.sees_single).full(),
        "Single: distance, near, looking down",
        "walk a few steps, look at the stairs",
        PRISM,
    ),
    (
        at!(handover.reads_number_plate).full(),
        "Reads a number plate",
        "at the distance that driving asks for; no: not to be driven in",
        DRIVES,
    ),
    (
        at!(handover.comfortable).full(),
        "The wearer is comfortable",
        "",
        ALL,
    ),
    (
        at!(handover.wearer_words).full(),
        "In the wearer's own words",
        "as it is said, good or bad",
        ALL,
    ),
];

const fn told(topic: Advice) -> &'static str {
    match topic {
        Advice::Adaptation => "Told about getting used to it",
        Advice::Driving => "Told about driving",
        Advice::Care => "Told about care",
        Advice::Aftercare => "Told to come back with any trouble",
        Advice::SafetyLimits => "Told what it does not protect against",
        Advice::Falls => "Told about stairs and falls",
        Advice::Child => "Told the child and who comes along",
        Advice::Field => "Told about the edge of the field",
        Advice::Solvents => "Told what harms the material",
        Advice::Photochromic => "Told when it is dark and when not",
        Advice::Retest => "Told when the next sight test is",
    }
}

/// Who hands over, among whom.
#[derive(Debug, Clone, Copy)]
pub struct Giver<'a> {
    /// The people of the practice.
    pub staff: &'a StaffRoll,
    /// Who acts.
    pub person: Option<&'a str>,
}

impl Giver<'_> {
    /// Whether whoever gives the pair may not do so alone: the wearer is of a restricted group.
    fn needs_supervisor(self, job: &Job, practice: &Practice, today: NaiveDate) -> bool {
        let h = &job.handover;
        let by = h.given_by.as_deref().or(self.person);
        let rule = practice.registration;
        is_restricted(job, practice, h.given_on.unwrap_or(today))
            && by.is_some_and(|name| !self.staff.may_serve_restricted(name, rule))
    }
}

/// Whether the pair was seen on the face, or will be: it is not posted or taken by another.
fn is_fitted(job: &Job) -> bool {
    job.handover.method.is_none_or(HandoverMethod::is_in_person)
}

/// What is asked of every handover, fitted or not.
const OF_EVERY_HANDOVER: [&str; 2] = [
    at!(handover.identity_checked).full(),
    at!(handover.frame_checked).full(),
];

/// Returns the checks of a job's handover in their order. How the pair reaches its wearer is asked where
/// the practice posts pairs and the wearer's may be; of a pair that nobody saw on the face nothing is
/// asked that is seen there, but when the wearer comes for the fitting.
pub fn steps(
    job: &Job,
    practice: &Practice,
    giver: Giver<'_>,
    today: NaiveDate,
) -> Vec<HandoverCheck> {
    let plain = |path, question, hint| HandoverCheck {
        path,
        question,
        hint,
        topic: None,
        points: Vec::new(),
    };
    let mut all = Vec::new();
    let may_be_posted = practice.allows(Way::Posted) && !is_restricted(job, practice, today);
    if may_be_posted || !is_fitted(job) {
        let hint = "no: posted, or taken by another; then nothing is seen on the face";
        all.push(plain(METHOD, "Handed over in person", hint));
    }
    if giver.needs_supervisor(job, practice, today) {
        let hint = "registered and on the premises, while the pair is handed over";
        all.push(plain(SUPERVISOR, "Supervised by", hint));
    }
    let is_asked = |path: &str| is_fitted(job) || OF_EVERY_HANDOVER.contains(&path);
    let checks = CHECKS.iter().filter(|(.., is_for)| is_for(job));
    all.extend(
        checks
            .filter(|(path, ..)| is_asked(path))
            .map(|(path, question, hint, _)| plain(*path, *question, *hint)),
    );
    if !is_fitted(job) {
        let path = at!(handover.review_on).full();
        all.push(plain(
            path,
            "Comes for the fitting on",
            "a day, such as +14",
        ));
    }
    for point in advice(job, practice, today) {
        match all.iter_mut().find(|s| s.topic == Some(point.topic)) {
            Some(step) => step.points.push(point),
            None => all.push(HandoverCheck {
                topic: Some(point.topic),
                points: vec![point.clone()],
                ..plain(at!(handover.advice).full(), told(point.topic), "")
            }),
        }
    }
    all.push(plain(at!(handover.collected_by).full(), "Collected by", ""));
    all
}

/// Returns the eye whose height a step reads, when the frame was adjusted after it was read.
pub(crate) fn read_again(step: &HandoverCheck, job: &Job) -> Option<Eye> {
    let stale = job.handover.adjusted_after_heights.as_deref()?;
    stale
        .iter()
        .copied()
        .find(|eye| step.path.contains(eye.word()) && step.path.ends_with("height_mm"))
}

impl HandoverCheck {
    /// Whether it is about how the frame sits, so that something can be adjusted there.
    pub fn is_of_fit(&self) -> bool {
        let key = self.path.rsplit('.').next().unwrap_or_default();
        // How it feels moves nothing by itself, but something is adjusted for it.
        moves_lenses(key) || key.ends_with("height_mm") || key == "comfortable"
    }

    /// Whether it is answered by one of several words or names, which are offered.
    pub fn is_chosen(&self) -> bool {
        self.is_method() || self.path == SUPERVISOR
    }

    /// Whether it asks how the pair reaches its wearer.
    pub fn is_method(&self) -> bool {
        self.path == METHOD
    }

    /// Whether it is answered in words, or in a figure that is written with letters.
    pub fn takes_words(&self) -> bool {
        self.topic.is_none()
            && fields::find(self.path).is_some_and(|f| matches!(f.kind, FieldKind::Text))
    }

    /// Whether yes or no answers it.
    pub fn is_yes_no(&self) -> bool {
        self.topic.is_some()
            || fields::find(self.path).is_some_and(|f| matches!(f.kind, FieldKind::Flag))
    }
}

/// The value at the fitting of what a step reads again on the face.
pub(crate) fn as_measured(step: &HandoverCheck, job: &Job) -> Option<Value> {
    measured_field(step)?.value(job)
}

/// The entry of the fitting that a step reads again on the face.
pub(super) fn measured_field(step: &HandoverCheck) -> Option<&'static fields::Field> {
    if step.is_chosen() {
        return None;
    }
    fields::find(&step.path.replace("handover.", "fitting."))
        .filter(|f| f.section == Section::Fitting)
}

/// Whether a step was answered; a height that is to be read again is not any more.
pub(crate) fn is_answered(step: &HandoverCheck, job: &Job) -> bool {
    match step.topic {
        Some(topic) => job.handover.advice.iter().flatten().any(|t| *t == topic),
        None => {
            read_again(step, job).is_none()
                && fields::find(step.path).is_some_and(|f| f.value(job).is_some())
        }
    }
}

/// Returns why agreeing with what was measured does not answer a step: what it decides has to be
/// read on the face and typed. Nothing where a plain yes is enough.
pub(crate) fn typed_because(
    step: &HandoverCheck,
    job: &Job,
    practice: &Practice,
) -> Option<String> {
    let strength = strength_d(job);
    if step.path.ends_with("vertex_mm")
        && strength + DUST >= practice.thresholds.get(Threshold::Strong)
    {
        let per_mm = strength * strength / 1000.0;
        return Some(format!(
            "at {strength:.2} D one millimetre changes the power by {per_mm:.2} D"
        ));
    }
    let design = job.lenses.design.filter(|d| d.needs_addition())?;
    let article = if design == Design::Office { "an" } else { "a" };
    step.path.ends_with("height_mm").then(|| {
        format!(
            "in {article} {} lens the height decides what is seen",
            design.word()
        )
    })
}

/// The value that a yes keeps for a step: what was measured; or why it is typed instead.
pub(crate) fn agreed(
    step: &HandoverCheck,
    job: &Job,
    practice: &Practice,
) -> Result<Value, String> {
    if read_again(step, job).is_some() {
        return Err("adjusted since it was read; read it again and type it.".to_owned());
    }
    if let Some(why) = typed_because(step, job, practice) {
        return Err(format!("type what you read: {why}."));
    }
    as_measured(step, job).ok_or_else(|| "this one is a value; type it.".to_owned())
}

/// The eyes whose heights were read on the face.
pub(crate) fn heights_read(job: &Job) -> Vec<Eye> {
    let all = Eye::BOTH.into_iter();
    all.filter(|eye| job.handover.eye(*eye).has_height())
        .collect()
}

/// How many heights are to be read again, because the frame was adjusted after they were read.
pub(crate) fn heights_to_read_again(job: &Job) -> usize {
    let stale = job.handover.adjusted_after_heights.as_ref();
    stale.map_or(0, Vec::len)
}

/// Whether saying that something was adjusted changes anything at a step.
pub(crate) fn can_adjust(step: &HandoverCheck, job: &Job) -> bool {
    step.is_of_fit() && (step.is_yes_no() || !heights_read(job).is_empty())
}
