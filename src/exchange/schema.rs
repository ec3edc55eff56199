//! The job file as a JSON Schema (draft 2020-12): what the reader takes, said in the words of that
//! standard, so that others can check a file before they send it.
//!
//! Published as `docs/job-file.schema.json`; tests hold it against the reader key by key.

use serde_json::{Map, Value, json};

use crate::job::{
    Advice, Cause, Centration, Complaint, Condition, ContactBy, CostBearer, CoverTest, Design,
    FORMAT, FrameMaterial, Markings, NickelRelease, Outcome, PadMaterial, PadMount, PowersAs,
    Purpose, Reason, RepairKind, Rim, SegmentShape, SideShape, SightImpaired, Stage, Surface,
    TakenAs, TakenWith, VERSION,
};
use crate::units::{Degree, Dioptre, Index, Millimetre, Percent, PrismDioptre};

/// Where the schema says it comes from; a name, not an address that is looked up.
pub const ID: &str = "urn:rimbook:job-file:1";

/// A value of a key, with what it may be. Null counts as absent everywhere but in a list.
type Key = (&'static str, Value);

fn text() -> Value {
    json!({"type": ["string", "null"]})
}

fn flag() -> Value {
    json!({"type": ["boolean", "null"]})
}

fn date() -> Value {
    json!({"type": ["string", "null"], "format": "date", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"})
}

fn moment() -> Value {
    json!({
        "type": ["string", "null"],
        "pattern": "^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])([T ]([01][0-9]|2[0-3]):[0-5][0-9]|T([01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9])$",
        "description": "local day and time, such as 2026-12-03T15:30",
    })
}

fn texts() -> Value {
    json!({"type": ["array", "null"], "items": {"type": "string"}})
}

fn number(low: f64, high: f64, unit: &str) -> Value {
    // Whole bounds are written whole.
    json!({"type": ["number", "null"], "minimum": low, "maximum": high, "description": unit})
}

fn power() -> Value {
    number(Dioptre::LOW, Dioptre::HIGH, "dioptres")
}

fn length() -> Value {
    number(Millimetre::LOW, Millimetre::HIGH, "millimetres")
}

fn angle() -> Value {
    number(Degree::LOW, Degree::HIGH, "degrees")
}

fn prism() -> Value {
    number(
        PrismDioptre::LOW,
        PrismDioptre::HIGH,
        "prism dioptres; base in and base up are positive",
    )
}

fn index() -> Value {
    number(Index::LOW, Index::HIGH, "refractive index")
}

fn percent() -> Value {
    number(Percent::LOW, Percent::HIGH, "percent")
}

fn words(all: impl IntoIterator<Item = &'static str>) -> Value {
    let mut list: Vec<Value> = all.into_iter().map(Value::from).collect();
    list.push(Value::Null);
    json!({ "enum": list })
}

macro_rules! words_of {
    ($kind:ty) => {
        words(<$kind>::ALL.iter().map(|w| w.word()))
    };
}

/// A reference to a definition; null counts as absent.
fn of(name: &str) -> Value {
    json!({"anyOf": [{"$ref": format!("#/$defs/{name}")}, {"type": "null"}]})
}

fn list_of(name: &str) -> Value {
    json!({"type": ["array", "null"], "items": {"$ref": format!("#/$defs/{name}")}})
}

fn object(keys: Vec<Key>) -> Value {
    let properties: Map<String, Value> = keys.into_iter().map(|(k, v)| (k.to_owned(), v)).collect();
    json!({"type": "object", "additionalProperties": false, "properties": properties})
}

fn written() -> Vec<Key> {
    vec![
        ("sphere_d", power()),
        ("cylinder_d", power()),
        ("axis_deg", angle()),
        ("addition_d", power()),
        ("base_in_delta", prism()),
        ("base_up_delta", prism()),
    ]
}

fn eyes(name: &str) -> Vec<Key> {
    vec![("right", of(name)), ("left", of(name))]
}

fn with(mut keys: Vec<Key>, more: Vec<Key>) -> Value {
    keys.extend(more);
    object(keys)
}

fn wearer() -> Value {
    let mut wearer = object(vec![
        ("name", json!({"type": "string", "pattern": "\\S"})),
        ("born", date()),
        ("phone", text()),
        ("email", text()),
        ("allergies", texts()),
        ("one_eyed", flag()),
        ("sight_impaired", words_of!(SightImpaired)),
        ("occupation", text()),
        ("drives", flag()),
        ("notes", text()),
    ]);
    wearer["required"] = json!(["name"]);
    wearer
}

fn prescription() -> Vec<Key> {
    vec![
        ("tested_on", date()),
        ("expires_on", date()),
        ("prescriber", text()),
        ("prescriber_registration", text()),
        ("tested_vertex_mm", length()),
        ("working_mm", length()),
        ("notes", text()),
        ("previous", of("Previous")),
    ]
}

fn fitting_numbers() -> Vec<Key> {
    let mut keys = vec![
        ("binocular_pd_mm", length()),
        ("near_pd_mm", length()),
        ("pantoscopic_deg", angle()),
        ("face_form_deg", angle()),
        ("head_width_mm", length()),
    ];
    keys.extend(eyes("EyeFitting"));
    keys
}

fn frame() -> Value {
    object(vec![
        ("name", text()),
        ("colour", text()),
        ("owned_by_wearer", flag()),
        ("a_mm", length()),
        ("b_mm", length()),
        ("ed_mm", length()),
        ("dbl_mm", length()),
        ("side_mm", length()),
        ("length_to_bend_mm", length()),
        ("front_width_mm", length()),
        ("front_material", words_of!(FrameMaterial)),
        ("side_material", words_of!(FrameMaterial)),
        ("contains_nickel", flag()),
        ("nickel_release", words_of!(NickelRelease)),
        ("rim", words_of!(Rim)),
        ("side_shape", words_of!(SideShape)),
        ("base_d", power()),
        ("condition", words_of!(Condition)),
        ("impact_rated", flag()),
        ("pads", of("Pads")),
    ])
}

fn lenses() -> Value {
    object(vec![
        ("purpose", words_of!(Purpose)),
        ("design", words_of!(Design)),
        ("segment", of("Segment")),
        ("corridor_mm", length()),
        ("minimum_height_mm", length()),
        ("material", text()),
        ("coatings", texts()),
        ("tint", of("Tint")),
        ("base_d", power()),
        ("centre_mm", length()),
        ("thinnest_mm", length()),
        ("blank_mm", length()),
        ("thinning_prism_up_delta", prism()),
        ("powers", of("Powers")),
        ("laboratory_powers", of("LaboratoryPowers")),
    ])
}

fn readings() -> Vec<Key> {
    vec![
        ("taken_by", text()),
        ("taken_on", date()),
        ("segment_tilt_deg", angle()),
        ("surface", words_of!(Surface)),
        ("markings", words_of!(Markings)),
        ("material_confirmed", flag()),
        ("coatings_confirmed", flag()),
        ("tint_confirmed", flag()),
        ("frame_trued", flag()),
        ("repeats", of("Repeats")),
    ]
}

fn handover() -> Vec<Key> {
    let topics: Vec<&str> = Advice::ALL.iter().map(|a| a.word()).collect();
    vec![
        ("given_by", text()),
        ("given_on", date()),
        ("identity_checked", flag()),
        ("pantoscopic_deg", angle()),
        ("face_form_deg", angle()),
        ("pads_level", flag()),
        ("sides_even", flag()),
        ("no_pressure_marks", flag()),
        ("distance_acuity", text()),
        ("near_acuity", text()),
        ("comfortable", flag()),
        (
            "advice",
            json!({"type": ["array", "null"], "items": {"enum": topics}}),
        ),
        ("collected_by", text()),
        ("frame_checked", flag()),
        (
            "adjusted_after_heights",
            json!({"type": ["array", "null"], "items": {"enum": ["right", "left"]}}),
        ),
        ("temples_free", flag()),
        ("let_back_even", flag()),
        ("drop_follows", flag()),
        ("stays", flag()),
        ("intermediate_acuity", text()),
        ("sees_single", flag()),
        ("reads_number_plate", flag()),
        ("wearer_words", text()),
    ]
}

fn definitions() -> Value {
    let mut all = Map::new();
    let mut put = |name: &str, value: Value| {
        all.insert(name.to_owned(), value);
    };
    put("Wearer", wearer());
    put(
        "EyePrescription",
        with(written(), vec![("balance", flag()), ("acuity", text())]),
    );
    put(
        "Prescription",
        with(prescription(), eyes("EyePrescription")),
    );
    put(
        "Previous",
        with(
            eyes("EyePrescription"),
            vec![
                ("vertex_mm", length()),
                ("base_d", power()),
                ("index", index()),
                ("design", text()),
                ("right_cd_mm", length()),
                ("left_cd_mm", length()),
            ],
        ),
    );
    put(
        "EyeFitting",
        object(vec![
            ("cd_mm", length()),
            ("near_cd_mm", length()),
            ("height_mm", length()),
            ("segment_height_mm", length()),
            ("vertex_mm", length()),
            ("length_to_bend_mm", length()),
        ]),
    );
    put("SecondReading", object(fitting_numbers()));
    put(
        "Fitting",
        with(
            fitting_numbers(),
            vec![
                ("taken_by", text()),
                ("taken_on", date()),
                ("centration", words_of!(Centration)),
                ("cover_test", words_of!(CoverTest)),
                ("taken_with", words_of!(TakenWith)),
                ("second_reading", of("SecondReading")),
            ],
        ),
    );
    ordered(&mut all);
    received(&mut all);
    later(&mut all);
    Value::Object(all)
}

/// The frame and the lenses that are ordered.
fn ordered(all: &mut Map<String, Value>) {
    let mut put = |name: &str, value: Value| {
        all.insert(name.to_owned(), value);
    };
    put("Frame", frame());
    put(
        "Pads",
        object(vec![
            ("mount", words_of!(PadMount)),
            ("size_mm", length()),
            ("material", words_of!(PadMaterial)),
        ]),
    );
    put("Lenses", lenses());
    put(
        "Segment",
        object(vec![
            ("shape", words_of!(SegmentShape)),
            ("width_mm", length()),
            ("top_to_centre_mm", length()),
        ]),
    );
    put(
        "Tint",
        object(vec![
            ("transmittance_percent", percent()),
            (
                "category",
                json!({"type": ["integer", "null"], "minimum": 0, "maximum": 4}),
            ),
            ("colour", text()),
        ]),
    );
    put("EyePower", object(written()));
    put(
        "Powers",
        with(
            eyes("EyePower"),
            vec![("as", words_of!(PowersAs)), ("by", text())],
        ),
    );
    put("LaboratoryPowers", object(eyes("EyePower")));
    put(
        "Order",
        object(vec![
            ("laboratory", text()),
            ("ordered_on", date()),
            ("due_on", date()),
            ("reference", text()),
            ("notes", text()),
        ]),
    );
}

/// What is read of the finished pair, and how it is handed over.
fn received(all: &mut Map<String, Value>) {
    let mut put = |name: &str, value: Value| {
        all.insert(name.to_owned(), value);
    };
    put(
        "EyeReading",
        with(
            written(),
            vec![
                ("cd_mm", length()),
                ("height_mm", length()),
                ("segment_height_mm", length()),
                ("centre_mm", length()),
                ("base_d", power()),
            ],
        ),
    );
    put(
        "Repeats",
        object(vec![
            ("right", list_of("EyeReading")),
            ("left", list_of("EyeReading")),
        ]),
    );
    put("Readings", with(readings(), eyes("EyeReading")));
    put(
        "EyeHandover",
        object(vec![
            ("vertex_mm", length()),
            ("length_to_bend_mm", length()),
            ("height_mm", length()),
            ("segment_height_mm", length()),
        ]),
    );
    put("Handover", with(handover(), eyes("EyeHandover")));
}

/// What belongs to a pair after its first handover.
fn later(all: &mut Map<String, Value>) {
    let complaints: Vec<&str> = Complaint::ALL.iter().map(|c| c.word()).collect();
    let mut put = |name: &str, value: Value| {
        all.insert(name.to_owned(), value);
    };
    put(
        "Origin",
        object(vec![
            ("job", text()),
            ("on", date()),
            ("by", text()),
            ("with", words_of!(TakenWith)),
            ("frame", text()),
            ("frame_a_mm", length()),
            ("frame_b_mm", length()),
            ("frame_dbl_mm", length()),
            ("as", words_of!(TakenAs)),
        ]),
    );
    put(
        "Visit",
        object(vec![
            ("complaint", text()),
            (
                "complaints",
                json!({"type": ["array", "null"], "items": {"enum": complaints}}),
            ),
            ("tried", texts()),
            ("warning_told", text()),
            ("found", text()),
            ("cause", words_of!(Cause)),
            ("outcome", words_of!(Outcome)),
            ("at_cost_of", words_of!(CostBearer)),
            ("review_on", date()),
            ("same_because", text()),
            ("decided_by", text()),
            ("decided_on", date()),
        ]),
    );
    put(
        "Aftercare",
        object(vec![
            ("repairs", list_of("Repair")),
            ("contacts", list_of("Contact")),
        ]),
    );
    put(
        "Repair",
        with(
            eyes("EyeHandover"),
            vec![
                ("on", date()),
                ("by", text()),
                ("kind", words_of!(RepairKind)),
                ("note", text()),
                ("pantoscopic_deg", angle()),
                ("face_form_deg", angle()),
                ("head_width_mm", length()),
                ("pads", of("Pads")),
            ],
        ),
    );
    put(
        "Contact",
        object(vec![
            ("at", moment()),
            ("by", text()),
            ("how", words_of!(ContactBy)),
            ("told", text()),
            ("reached", flag()),
        ]),
    );
}

fn job() -> Value {
    let origins = json!({
        "anyOf": [
            {"type": "object", "additionalProperties": of("Origin")},
            {"type": "null"},
        ],
    });
    let mut job = object(vec![
        ("format", json!({"const": FORMAT})),
        ("version", json!({"const": VERSION})),
        ("number", text()),
        ("stage", words_of!(Stage)),
        ("past", flag()),
        ("reason", words_of!(Reason)),
        ("linked_to", text()),
        ("promised_on", date()),
        ("collection_at", moment()),
        ("wearer", json!({"$ref": "#/$defs/Wearer"})),
        ("prescription", of("Prescription")),
        ("fitting", of("Fitting")),
        ("frame", of("Frame")),
        ("lenses", of("Lenses")),
        ("order", of("Order")),
        ("readings", of("Readings")),
        ("handover", of("Handover")),
        ("origins", origins),
        ("visit", of("Visit")),
        ("aftercare", of("Aftercare")),
        (
            "accepted",
            json!({"description": "written on export, not read"}),
        ),
        (
            "history",
            json!({"description": "written on export, not read"}),
        ),
    ]);
    job["required"] = json!(["format", "version", "wearer"]);
    job
}

/// Returns the schema.
pub fn schema() -> Value {
    let mut defs = definitions();
    defs["Job"] = job();
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": ID,
        "title": "rimbook job file",
        "description": "One job, or an array of them. Lengths in millimetres, powers in dioptres, prism in prism dioptres, angles in degrees. Both eyes: base in and base up are positive.",
        "oneOf": [
            {"$ref": "#/$defs/Job"},
            {"type": "array", "minItems": 1, "items": {"$ref": "#/$defs/Job"}},
        ],
        "$defs": defs,
    })
}
