//! The fitting card of an invented pair in both arrangements, and of pairs that hold odd text.

use proptest::prelude::*;
use rimbook::testing::job::Job;
use rimbook::testing::practice::Practice;
use rimbook::testing::views::card::fitting_card;
use serde_json::json;
use unicode_width::UnicodeWidthStr;

fn job() -> Job {
    serde_json::from_value(json!({
        "stage": "collected", "past": true,
        "wearer": {"name": "Ida Example", "born": "1961-04-23", "allergies": ["nickel"], "one_eyed": false},
        "prescription": {"tested_on": "2026-11-02", "tested_vertex_mm": 12,
            "right": {"sphere_d": -2.25, "cylinder_d": -0.75, "axis_deg": 90, "addition_d": 2},
            "left": {"sphere_d": -1.125, "addition_d": 2, "base_in_delta": -1}},
        "fitting": {"taken_on": "2026-11-03",
            "right": {"cd_mm": 31.5, "near_cd_mm": 29.5, "height_mm": 22, "vertex_mm": 13, "length_to_bend_mm": 95},
            "left": {"cd_mm": 32, "near_cd_mm": 30, "height_mm": 21.5, "vertex_mm": 13.5, "length_to_bend_mm": 97},
            "pantoscopic_deg": 8, "face_form_deg": 5, "head_width_mm": 142},
        "frame": {"name": "Alder", "colour": "brown", "a_mm": 52, "b_mm": 38, "dbl_mm": 18, "side_mm": 140,
            "pads": {"mount": "screw", "size_mm": 13, "material": "silicone"}},
        "lenses": {"design": "progressive", "material": "resin 1.60", "coatings": ["hard", "anti-reflection"],
            "base_d": 4, "powers": {"as": "vertex compensated"}},
        "order": {"laboratory": "North Lab", "ordered_on": "2026-11-04", "due_on": "2026-11-12"}
    }))
    .unwrap()
}

fn text(job: &Job, width: usize) -> String {
    let lines: Vec<String> = fitting_card(job, "1042", &Practice::default(), width)
        .iter()
        .map(rimbook::testing::views::card::CardLine::text)
        .collect();
    lines.join("\n")
}

#[test]
fn narrow_card() {
    insta::assert_snapshot!(text(&job(), 40), @r"
    Ida Example · born 1961-04-23
    2026-11-04 · 1042 · collected · age 65
    allergic: nickel · past, unchecked
    Rx     tested 2026-11-02
    R      -2.25/-0.75x90 add 2.00
    L      -1.125 add 2.00 1.00 out
    PD     31.5/32 ±1.0 read 2x near 29.5/30
    height R 22 L 21.5 mm ±1.0 measure twice
    vertex 12 → 13/13.5 → - mm
    bend   R 95 L 97 mm
    head   142 mm · pads 13 mm silicone scr…
    frame  Alder brown 52-18 b 38 side 140
    lenses progressive · resin 1.60 · verte…
    tilt   8° ±5.7 · face form 5° ±5.9
    with   base 4 D · hard, anti-reflection
    order  North Lab · due 2026-11-12
    ");
}

#[test]
fn wide_card() {
    insta::assert_snapshot!(text(&job(), 78), @r"
    Ida Example · born 1961-04-23          2026-11-04 · 1042 · collected · age 65
    allergic: nickel · past, unchecked
    Rx     R -2.25/-0.75x90 add 2.00  L -1.125 add 2.00 1.00 out (2026-11-02)
    PD     31.5/32 ±1.0 read 2x near 29.5/30  height R 22 L 21.5 mm ±1.0 read 2x
    vertex 12 → 13/13.5 → - mm                tilt 8° ±5.7 · face form 5° ±5.9
    bend   R 95 L 97 mm  head 142 mm · pads 13 mm silicone screw
    frame  Alder brown 52-18 b 38 side 140    North Lab · due 2026-11-12
    lenses progressive · resin 1.60 · vertex compensated · base 4 D · hard, anti-…
    ");
}

#[test]
fn where_room_is_short_the_words_still_say_what_to_do() {
    // A single-vision pair whose face form is the tightest of what was measured: the number of the
    // other angle gives way first, then letters; "twice" alone would say nothing.
    let mut job = job();
    job.lenses.design = Some(rimbook::testing::job::Design::SingleVision);
    job.prescription.right.addition_d = None;
    job.prescription.left.addition_d = None;
    job.fitting.right.height_mm = None;
    job.fitting.left.height_mm = None;
    for (width, said) in [
        (100, "tilt 8° ±5.7 · face form 5° ±5.4 measure twice"),
        (78, "tilt 8° ±5.7 · face form 5° ±5.4 measure twice"),
        (44, "tilt   8° · face form 5° ±5.4 measure twice"),
        (40, "tilt   8° · face form 5° ±5.4 read twice"),
        (38, "tilt   8° · face form 5° ±5.4 read 2x"),
        (34, "tilt   8° · face form 5° read 2x"),
    ] {
        let all = text(&job, width);
        let found = all.lines().any(|l| l.ends_with(said));
        assert!(found, "{width}: {said}\n{all}");
    }
}

#[test]
fn without_flags_the_narrow_card_has_room_for_coatings() {
    let mut job = job();
    job.past = None;
    job.wearer.allergies = Some(Vec::new());
    let lines = fitting_card(&job, "1042", &Practice::default(), 40);
    assert_eq!(lines.len(), 15);
    assert!(
        lines
            .iter()
            .any(|l| l.text().contains("hard, anti-reflection")),
        "{lines:#?}"
    );
}

#[test]
fn an_empty_job_has_a_card_of_dashes() {
    insta::assert_snapshot!(text(&Job::default(), 40), @r"
    - · birth date -
    - · 1042 · measured
    Rx     no day of test
    R      -
    L      -
    PD     R - L - mm near -
    height R - L - mm
    vertex - → - → - mm
    bend   R - L - mm
    head   - mm · pads -
    frame  - b - side -
    lenses -
    tilt   - · face form -
    with   -
    order  - · due -
    ");
}

proptest! {
    #[test]
    fn no_text_breaks_the_card(
        name in "\\PC{0,60}|[\u{1b}\u{9b}\u{202e}\u{7}字é👩‍👩‍👧a]{0,60}", frame in "\\PC{0,60}", laboratory in "\\PC{0,60}", width in 0usize..200,
    ) {
        let mut job = job();
        job.wearer.name = Some(name);
        job.frame.name = Some(frame);
        job.order.laboratory = Some(laboratory);
        let lines = fitting_card(&job, "1042", &Practice::default(), width);
        let most = if width >= 60 { 8 } else { 16 };
        prop_assert!(lines.len() <= most);
        for line in lines {
            let text = line.text();
            prop_assert!(text.width() <= width.max(7), "{} > {width}: {text}", text.width());
            let unsafe_character = text.chars().find(|c| c.is_control() || ('\u{202a}'..='\u{202e}').contains(c));
            prop_assert_eq!(unsafe_character, None);
        }
    }
}
