//! Sheets are read back as they come from the printer: page size, text, measured millimetres, codes.

use chrono::NaiveDate;
use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings};
use rimbook::testing::exchange::paper;
use rimbook::testing::job::Job;
use rimbook::testing::job::tray_code;
use rimbook::testing::practice::Practice;
use rimbook::testing::views::sheet::{CAUTION, Sheet, SheetKind, Subject, sheet};
use rxing::BarcodeFormat;
use serde_json::json;

/// Dots of the raster for a millimetre: 300 to the inch.
const DOTS_PER_MM: f64 = 300.0 / 25.4;
/// How far a drawn distance may be off, mm.
const CLOSE_MM: f64 = 0.2;
/// Lighter than this is grey or paper.
const BLACK: u8 = 60;

fn job() -> Job {
    serde_json::from_value(json!({
        "wearer": {"name": "Ada Brookfield-Lund", "born": "1987-12-30"},
        "prescription": {
            "tested_on": "2026-11-18", "prescriber": "Marek Aldous", "tested_vertex_mm": 12,
            "right": {"sphere_d": -6, "cylinder_d": -1, "axis_deg": 20},
            "left": {"sphere_d": -5.5, "base_in_delta": 1.5}
        },
        "fitting": {
            "right": {"cd_mm": 31.5, "height_mm": 22, "vertex_mm": 14, "length_to_bend_mm": 95},
            "left": {"cd_mm": 33, "height_mm": 23, "vertex_mm": 14, "length_to_bend_mm": 97},
            "pantoscopic_deg": 9, "face_form_deg": 4
        },
        "frame": {"name": "Panto 3", "a_mm": 52, "b_mm": 38, "dbl_mm": 18},
        "lenses": {
            "design": "single vision", "material": "resin 1.60",
            "powers": {
                "as": "vertex compensated",
                "right": {"sphere_d": -6.125, "cylinder_d": -1, "axis_deg": 20},
                "left": {"sphere_d": -5.625, "base_in_delta": 1.5}
            }
        },
        "order": {"laboratory": "Harbour Bench", "ordered_on": "2026-11-20", "due_on": "2026-12-01"}
    }))
    .unwrap()
}

fn sheet_of(job: &Job, number: &str, what: SheetKind, practice: &Practice) -> Sheet {
    sheet(
        what,
        Subject {
            job,
            number,
            practice,
            today: NaiveDate::from_ymd_opt(2026, 11, 25).unwrap(),
        },
    )
}

fn written(job: &Job, what: SheetKind) -> paper::SheetPdf {
    paper::pdf(&sheet_of(job, "1042", what, &Practice::default())).unwrap()
}

/// All text of a PDF, blanks and line ends made one blank.
fn text_of(bytes: &[u8]) -> String {
    let document = lopdf::Document::load_mem(bytes).unwrap();
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    let text = document.extract_text(&pages).unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// One page as it is printed, a byte of lightness for each dot.
struct Raster {
    width: usize,
    light: Vec<u8>,
}

impl Raster {
    fn of(bytes: &[u8], page: usize) -> Self {
        let pdf = Pdf::new(bytes.to_vec()).unwrap();
        let scale = 300.0 / 72.0;
        let pixmap = hayro::render(
            &pdf.pages()[page],
            &RenderCache::new(),
            &InterpreterSettings::default(),
            &RenderSettings::default(),
            &PixmapSettings {
                x_scale: scale,
                y_scale: scale,
                bg_color: WHITE,
            },
        );
        // The sheets are black, grey and white: one colour says all.
        let light = pixmap
            .data_as_u8_slice()
            .chunks(4)
            .map(|rgba| rgba[0])
            .collect();
        Self {
            width: usize::from(pixmap.width()),
            light,
        }
    }

    /// Black runs of every row, each as its two ends in mm.
    fn rows(&self) -> Vec<Vec<(f64, f64)>> {
        self.light
            .chunks(self.width)
            .map(|row| {
                let mut runs: Vec<(usize, usize)> = Vec::new();
                for (x, light) in row.iter().enumerate() {
                    if *light >= BLACK {
                        continue;
                    }
                    match runs.last_mut() {
                        Some((_, to)) if *to == x => *to = x + 1,
                        _ => runs.push((x, x + 1)),
                    }
                }
                let mm = |dots: usize| f64::from(u32::try_from(dots).unwrap()) / DOTS_PER_MM;
                runs.into_iter().map(|(a, b)| (mm(a), mm(b))).collect()
            })
            .collect()
    }

    fn decode(&self, format: BarcodeFormat) -> String {
        let height = self.light.len() / self.width;
        rxing::helpers::detect_in_luma(
            self.light.clone(),
            u32::try_from(self.width).unwrap(),
            u32::try_from(height).unwrap(),
            Some(format),
        )
        .unwrap()
        .getText()
        .to_owned()
    }
}

fn middle(run: (f64, f64)) -> f64 {
    f64::midpoint(run.0, run.1)
}

/// The distances between thin runs of a row; `None` where one is wider than a fine line.
fn gaps(row: &[(f64, f64)]) -> Option<Vec<f64>> {
    row.iter().all(|(a, b)| b - a < 0.5).then(|| {
        row.windows(2)
            .map(|w| middle(w[1]) - middle(w[0]))
            .collect()
    })
}

fn close(found: &[f64], wanted: &[f64]) -> bool {
    found.len() == wanted.len()
        && found
            .iter()
            .zip(wanted)
            .all(|(f, w)| (f - w).abs() <= CLOSE_MM)
}

#[test]
fn pages_have_the_size_of_the_paper() {
    let mut practice = Practice::default();
    for (word, width, height) in [("a4", 210.0, 297.0), ("letter", 215.9, 279.4)] {
        practice.set("paper", word).unwrap();
        for what in SheetKind::ALL {
            let bytes = paper::pdf(&sheet_of(&job(), "1042", what, &practice))
                .unwrap()
                .bytes;
            let document = lopdf::Document::load_mem(&bytes).unwrap();
            for id in document.get_pages().values() {
                let page = document.get_dictionary(*id).unwrap();
                let corners = page.get(b"MediaBox").unwrap().as_array().unwrap();
                let mm = |i: usize| f64::from(corners[i].as_float().unwrap()) * 25.4 / 72.0;
                assert!((mm(2) - mm(0) - width).abs() < 0.01, "{what:?} {word}");
                assert!((mm(3) - mm(1) - height).abs() < 0.01, "{what:?} {word}");
            }
        }
    }
}

#[test]
fn the_line_on_the_chart_is_100_mm_long_with_a_tick_at_every_ten() {
    let rows = Raster::of(&written(&job(), SheetKind::Chart).bytes, 0).rows();
    let ticks = rows
        .iter()
        .filter_map(|r| gaps(r))
        .filter(|g| close(g, &[10.0; 10]) && (g.iter().sum::<f64>() - 100.0).abs() <= CLOSE_MM)
        .count();
    // Only the ticks at ten are longer than 3.2 mm: their last 1.3 mm stand alone.
    assert!(ticks >= 10, "{ticks} rows of ticks");
    let whole = rows
        .iter()
        .flatten()
        .filter(|(a, b)| (b - a - 100.0).abs() <= CLOSE_MM);
    assert!(whole.count() >= 1, "the line itself");
}

#[test]
fn boxes_and_bridge_are_drawn_at_one_to_one() {
    for what in [SheetKind::Chart, SheetKind::Order] {
        let bytes = written(&job(), what).bytes;
        let pages = lopdf::Document::load_mem(&bytes).unwrap().get_pages().len();
        let matching: usize = (0..pages)
            .map(|page| {
                Raster::of(&bytes, page)
                    .rows()
                    .iter()
                    .filter_map(|r| gaps(r))
                    .filter(|g| close(g, &[52.0, 18.0, 52.0]))
                    .count()
            })
            .sum();
        assert!(matching > 100, "{what:?}: {matching} rows");
    }
}

#[test]
fn centration_points_are_as_far_apart_as_they_are_ordered() {
    let rows = Raster::of(&written(&job(), SheetKind::Chart).bytes, 0).rows();
    // The level arms of the crosses are 6 mm long; each drawing has one for each eye.
    let mut arms: Vec<f64> = Vec::new();
    for run in rows.iter().flatten() {
        if (run.1 - run.0 - 6.0).abs() <= CLOSE_MM {
            let at = middle(*run);
            if !arms.iter().any(|a| (a - at).abs() < 0.1) {
                arms.push(at);
            }
        }
    }
    arms.sort_by(f64::total_cmp);
    // From the front the right eye is 31.5 mm to the left of the middle, from behind to the right.
    let middle = 210.0 / 2.0;
    let wanted = [middle - 33.0, middle - 31.5, middle + 31.5, middle + 33.0];
    assert!(close(&arms, &wanted), "{arms:?}");
}

#[test]
fn both_codes_of_the_tray_read_as_the_number() {
    let raster = Raster::of(&written(&job(), SheetKind::Tray).bytes, 0);
    for format in [BarcodeFormat::CODE_128, BarcodeFormat::QR_CODE] {
        let read = raster.decode(format);
        assert_eq!(tray_code::decode(&read).as_deref(), Some("1042"), "{read}");
    }
}

#[test]
fn a_long_number_still_has_bars_that_read() {
    let number = "12345678901234567890";
    let bytes = paper::pdf(&sheet_of(
        &job(),
        number,
        SheetKind::Tray,
        &Practice::default(),
    ))
    .unwrap()
    .bytes;
    let read = Raster::of(&bytes, 0).decode(BarcodeFormat::CODE_128);
    assert_eq!(tray_code::decode(&read).as_deref(), Some(number));
}

#[test]
fn a_number_without_a_code_says_so() {
    let made = sheet_of(&job(), "17/2", SheetKind::Tray, &Practice::default());
    assert!(text_of(&paper::pdf(&made).unwrap().bytes).contains("No code"));
    assert!(paper::text(&made).contains("No code of the tray"));
}

#[test]
fn every_sheet_carries_the_caution_and_the_day_on_every_page() {
    for what in SheetKind::ALL {
        let bytes = written(&job(), what).bytes;
        let document = lopdf::Document::load_mem(&bytes).unwrap();
        for page in document.get_pages().keys() {
            let text = document.extract_text(&[*page]).unwrap();
            let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
            let flat = |t: &str| t.split_whitespace().collect::<String>();
            assert!(flat(&text).contains(&flat(CAUTION)), "{what:?}: {text}");
            assert!(
                text.contains("Printed 25 November 2026"),
                "{what:?}: {text}"
            );
        }
    }
}

#[test]
fn only_the_wearers_own_sheet_names_the_wearer() {
    for what in SheetKind::ALL {
        let made = sheet_of(&job(), "1042", what, &Practice::default());
        let written = paper::pdf(&made).unwrap().bytes;
        let named = what == SheetKind::Wearer;
        assert_eq!(text_of(&written).contains("Brookfield"), named, "{what:?}");
        assert_eq!(paper::text(&made).contains("Brookfield"), named, "{what:?}");
        let raw = String::from_utf8_lossy(&written);
        assert!(!raw.contains("Brookfield"), "in the data about the file");
    }
    let tray = paper::text(&sheet_of(
        &job(),
        "1042",
        SheetKind::Tray,
        &Practice::default(),
    ));
    assert!(tray.contains("wearer: A. B. L."), "{tray}");
}

#[test]
fn the_order_says_what_the_powers_are_and_what_a_focimeter_reads() {
    let mut job = job();
    job.lenses.laboratory_powers = serde_json::from_value(json!({
        "right": {"sphere_d": -6.18, "cylinder_d": -1.07, "axis_deg": 22}, "left": {}
    }))
    .unwrap();
    let made = sheet_of(&job, "1042", SheetKind::Order, &Practice::default());
    for text in [
        text_of(&paper::pdf(&made).unwrap().bytes),
        paper::text(&made),
    ] {
        for wanted in [
            "the practice has compensated for vertex distance",
            "do not compensate for that",
            "A focimeter should read",
            "-6.125",
            "-6.18",
            "-1.07",
            "1.50 in",
            "Prescription",
            "-6.00",
        ] {
            assert!(text.contains(wanted), "{wanted} in {text}");
        }
    }
}

#[test]
fn nothing_that_is_read_of_the_lenses_is_on_the_tray_sheet() {
    let mut job = job();
    job.lenses.thinning_prism_up_delta = serde_json::from_value(json!(-1.75)).unwrap();
    job.lenses.laboratory_powers = serde_json::from_value(json!({
        "right": {"sphere_d": -6.18, "cylinder_d": -1.07, "axis_deg": 22}, "left": {}
    }))
    .unwrap();
    let both = |what| {
        let made = sheet_of(&job, "1042", what, &Practice::default());
        [
            text_of(&paper::pdf(&made).unwrap().bytes),
            paper::text(&made),
        ]
    };
    let read = [
        "6.125", "5.625", "6.18", "1.07", "6.00", "5.50", "1.50 in", "1.75", "31.5", "33.0",
        "22.0", "23.0", "sphere", "axis",
    ];
    for text in both(SheetKind::Tray) {
        for number in read {
            assert!(!text.contains(number), "{number} in {text}");
        }
        // It says where they are, and still has what the pair is trued by.
        for wanted in [
            "on the order sheet",
            "right 95.0 mm, left 97.0 mm",
            "resin 1.60",
        ] {
            assert!(text.contains(wanted), "{wanted} in {text}");
        }
    }
    for text in both(SheetKind::Order) {
        for number in &read[..11] {
            assert!(text.contains(number), "{number} in {text}");
        }
    }
}

#[test]
fn a_dash_is_explained_at_the_foot_where_there_is_one() {
    let says = |job: &Job, what| {
        let made = sheet_of(job, "1042", what, &Practice::default());
        let plain = paper::text(&made);
        let printed = text_of(&paper::pdf(&made).unwrap().bytes);
        let has = |text: &str| text.contains("A dash (-)");
        assert_eq!(has(&plain), has(&printed), "{what:?}");
        let last = plain.lines().rev().take(3).any(has);
        assert_eq!(has(&plain), last, "at the foot: {plain}");
        has(&plain)
    };
    for what in SheetKind::ALL {
        // The chart says in words what is missing.
        assert_eq!(
            says(&Job::default(), what),
            what != SheetKind::Chart,
            "{what:?}"
        );
    }
    let mut whole = job();
    whole.promised_on = whole.order.due_on;
    assert!(!says(&whole, SheetKind::Tray));
    whole.fitting.left.length_to_bend_mm = None;
    assert!(!says(&whole, SheetKind::Tray), "left out, not a dash");
    let tray = paper::text(&sheet_of(
        &whole,
        "1042",
        SheetKind::Tray,
        &Practice::default(),
    ));
    assert!(tray.contains("Length to bend: right 95.0 mm\n"), "{tray}");
    // The dash of a minus power is none.
    assert!(!says(&whole, SheetKind::Chart));
}

#[test]
fn an_order_that_is_not_ordered_says_so() {
    let says = |stage: &str| {
        let mut job = job();
        job.stage = rimbook::testing::job::Stage::from_word(stage);
        let text = text_of(&written(&job, SheetKind::Order).bytes);
        (
            text.contains("not ordered yet"),
            text.contains("do not make these lenses"),
        )
    };
    assert_eq!(says("measured"), (true, true));
    assert_eq!(says("cancelled"), (false, true));
    for stage in ["ordered", "verified", "collected"] {
        assert_eq!(says(stage), (false, false), "{stage}");
    }
}

#[test]
fn what_the_font_lacks_is_boxed_and_said_and_nothing_unseen_is_printed() {
    let mut job = job();
    job.wearer.name = Some("Ana 明美子 \u{202e}rev\u{1b}[2J".to_owned());
    let written = written(&job, SheetKind::Wearer);
    let said = "3 characters of the value “name” are not in the font; they are printed as □.";
    assert!(
        written.notes.iter().any(|n| n == said),
        "{:?}",
        written.notes
    );
    let unseen = "2 characters of the value “name” that cannot be seen are left out.";
    assert!(
        written.notes.iter().any(|n| n == unseen),
        "{:?}",
        written.notes
    );
    let text = text_of(&written.bytes);
    // The font's glyph for what it lacks is a box; a program that reads the PDF gets U+FFFD for it.
    assert!(text.contains("Ana \u{fffd}\u{fffd}\u{fffd} rev"), "{text}");
    assert!(text.contains("3 characters of the value"), "{text}");
    assert!(!text.contains('\u{202e}') && !text.contains('\u{1b}'));
    let plain = paper::text(&sheet_of(
        &job,
        "1042",
        SheetKind::Wearer,
        &Practice::default(),
    ));
    assert!(plain.contains("明美子"), "a terminal has its own fonts");
    assert!(!plain.contains('\u{202e}') && !plain.contains('\u{1b}'));
}

#[test]
fn long_texts_stay_on_the_paper_and_a_cut_is_said() {
    let mut job = job();
    job.wearer.name = Some("Wolfeschlegelstein".repeat(20));
    job.order.notes = Some("please mind the bridge ".repeat(200));
    let tray = written(&job, SheetKind::Tray);
    assert!(text_of(&tray.bytes).contains("(shortened)"));
    for bytes in [tray.bytes, written(&job, SheetKind::Wearer).bytes] {
        let raster = Raster::of(&bytes, 0);
        for row in raster.rows() {
            for (from, to) in row {
                assert!(from > 17.5 && to < 192.5, "ink from {from} to {to} mm");
            }
        }
    }
}

#[test]
fn an_empty_job_prints_every_sheet_and_says_what_to_record() {
    for what in SheetKind::ALL {
        let made = sheet_of(&Job::default(), "1", what, &Practice::default());
        let text = text_of(&paper::pdf(&made).unwrap().bytes);
        assert!(text.contains(what.title()), "{text}");
    }
    let chart = paper::text(&sheet_of(
        &Job::default(),
        "1",
        SheetKind::Chart,
        &Practice::default(),
    ));
    assert!(
        chart.contains("record lens width A, lens height B, the distance between lenses"),
        "{chart}"
    );
}

#[test]
fn a_front_wider_than_the_paper_is_not_drawn_smaller() {
    let mut job = job();
    job.frame.a_mm = serde_json::from_value(json!(80)).unwrap();
    let text = paper::text(&sheet_of(&job, "1", SheetKind::Chart, &Practice::default()));
    assert!(text.contains("does not fit the paper at 1:1"), "{text}");
}
