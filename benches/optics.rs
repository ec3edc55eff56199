//! How long single calculations take, by function call and through the headless interface, and the
//! checks of a whole job.
//!
//! `cargo bench --bench optics`
#![allow(missing_docs, clippy::unwrap_used, reason = "a benchmark")]

use std::hint::black_box;

use chrono::NaiveDate;
use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use rimbook::testing::exchange::calc::{answer, run};
use rimbook::testing::job::{Gate, Job, Section, StaffRoll, read_jobs};
use rimbook::testing::judge::derive::accuracy::full_budget;
use rimbook::testing::judge::gate::{Surroundings, findings};
use rimbook::testing::practice::Practice;
use rimbook::testing::trade::eye::{Eye, PerEye};
use rimbook::testing::trade::optics::Rx;
use rimbook::testing::trade::optics::as_worn::{WornLens, as_worn, as_worn_compensate};
use rimbook::testing::trade::optics::outline::Outline;
use rimbook::testing::trade::optics::prism::LensPoint;
use rimbook::testing::trade::optics::thickness::{GivenThickness, LensBody, thickness};
use rimbook::testing::trade::optics::tilt::{Tilt, oblique};
use rimbook::testing::trade::optics::vertex::vertex;
use rimbook::testing::trade::tolerance::budget::{Basis, ThinLens, budget};
use rimbook::testing::trade::tolerance::{EyeValues, PairValues};
use serde_json::{Value, json};

const RX: Rx = Rx::new(-4.25, -1.5, 37.0);

const TILT: Tilt = Tilt {
    pantoscopic_deg: 9.0,
    face_form_deg: 12.0,
};

const CENTRE: LensPoint = LensPoint {
    in_mm: 2.5,
    up_mm: -1.5,
};

const LENS: WornLens = WornLens {
    index: 1.6,
    front_d: 4.0,
    centre_mm: 1.6,
    tilt: TILT,
    optical_centre: CENTRE,
};

fn calls(c: &mut Criterion) {
    c.bench_function("vertex", |b| b.iter(|| vertex(black_box(RX), 13.5, 11.0)));
    c.bench_function("oblique", |b| {
        b.iter(|| oblique(Eye::Right, black_box(RX), 1.6, TILT));
    });
    c.bench_function("as_worn", |b| {
        b.iter(|| as_worn(Eye::Right, black_box(RX), LENS));
    });
    c.bench_function("as_worn_compensate", |b| {
        b.iter(|| as_worn_compensate(Eye::Right, black_box(RX), LENS));
    });
    let outline = Outline::from_box(52.0, 37.0, 56.0).unwrap();
    let body = LensBody {
        rx: RX,
        index: 1.6,
        base_d: 4.0,
        base_index: 1.53,
        centre: CENTRE,
        given: GivenThickness::Thinnest(1.3),
    };
    c.bench_function("thickness", |b| {
        b.iter(|| thickness(Eye::Left, black_box(body), &outline));
    });
}

/// The budget of one pair, everything measured, as each look at a gate works it out.
fn budgets(c: &mut Criterion) {
    let pairs = [
        ("minus 1", Rx::sphere(-1.0), Rx::sphere(-1.25)),
        ("minus 10", Rx::sphere(-10.0), Rx::new(-9.5, -1.5, 20.0)),
        (
            "weak cylinder",
            Rx::new(6.0, -0.25, 170.0),
            Rx::new(5.5, -0.5, 40.0),
        ),
    ];
    let mut group = c.benchmark_group("full_budget");
    for (name, right, left) in pairs {
        let basis = Basis {
            ordered: PairValues {
                right: Some(EyeValues::of(right)),
                left: Some(EyeValues::of(left)),
            },
            fitted_vertex_mm: PerEye {
                right: Some(12.0),
                left: Some(12.0),
            },
            pantoscopic_deg: Some(8.0),
            face_form_deg: Some(5.0),
            index: Some(1.6),
            ..Basis::default()
        };
        group.bench_function(name, |b| b.iter(|| budget(black_box(&basis), &ThinLens)));
    }
    group.finish();
}

fn requests(c: &mut Criterion) {
    let lines = [
        (
            "transpose",
            r#"{"id":17,"calc":"transpose","rx":{"sphere_d":-4.25,"cylinder_d":-1.5,"axis_deg":37},"form":"plus"}"#,
        ),
        (
            "vertex",
            r#"{"id":17,"calc":"vertex","rx":{"sphere_d":-8.25,"cylinder_d":-1.5,"axis_deg":37},"from_mm":12,"to_mm":14}"#,
        ),
        (
            "as_worn",
            r#"{"id":17,"calc":"as_worn","eye":"right","rx":{"sphere_d":-4.25,"cylinder_d":-1.5,"axis_deg":37},"index":1.6,"front_d":4,"centre_mm":1.6,"pantoscopic_deg":9,"face_form_deg":12,"oc_in_mm":2.5,"oc_up_mm":-1.5}"#,
        ),
    ];
    let mut group = c.benchmark_group("request");
    for (name, line) in lines {
        group.throughput(Throughput::Elements(1));
        group.bench_function(name, |b| b.iter(|| answer(black_box(line))));
    }
    group.finish();
    let mut group = c.benchmark_group("run");
    for (name, line) in lines {
        let input = format!("{line}\n").repeat(1000);
        group.throughput(Throughput::Elements(1000));
        group.bench_function(name, |b| {
            b.iter(|| run(black_box(input.as_bytes()), std::io::sink()));
        });
    }
    group.finish();
}

/// Scenario S01 of the tests with its readings and handover, tilted so that every model has work.
fn made_pair() -> (Job, StaffRoll, NaiveDate) {
    let all: Value = serde_json::from_str(include_str!("../tests/data/scenarios.json")).unwrap();
    let scenario = &all["scenarios"][0];
    let mut job: Job = read_jobs(&scenario["job"].to_string()).unwrap().remove(0);
    for step in scenario["steps"].as_array().unwrap() {
        if step["do"] == "record" {
            let section = Section::from_word(step["section"].as_str().unwrap()).unwrap();
            job.record(section, &step["value"]).unwrap();
        }
    }
    job.record(
        Section::Fitting,
        &json!({"pantoscopic_deg": 9, "face_form_deg": 8}),
    )
    .unwrap();
    let staff = StaffRoll(serde_json::from_value(scenario["staff"].clone()).unwrap());
    (
        job,
        staff,
        scenario["today"].as_str().unwrap().parse().unwrap(),
    )
}

fn jobs(c: &mut Criterion) {
    let (job, staff, today) = made_pair();
    let practice = Practice::default();
    let around = Surroundings {
        sign_in: false,
        today,
        staff: &staff,
        practice: &practice,
        others: &[],
        questions: &[],
    };
    for gate in Gate::ALL {
        c.bench_function(&format!("gate {gate}"), |b| {
            b.iter(|| findings(*gate, black_box(&job), around, &[], &[]));
        });
    }
    c.bench_function("full_budget", |b| {
        b.iter(|| full_budget(black_box(&job), &practice));
    });
    let pair = json!({"right": {"sphere_d": -2.0, "cylinder_d": -0.5, "axis_deg": 90, "base_in_delta": 0, "base_up_delta": 0},
        "left": {"sphere_d": -2.25, "cylinder_d": -0.5, "axis_deg": 80, "base_in_delta": 0, "base_up_delta": 0}});
    let request = json!({"calc": "tolerance", "standard": "ISO 21987:2017", "lens_kind": "single vision", "ordered": pair,
        "measured": pair})
    .to_string();
    assert!(
        answer(&request).contains("\"ok\":true"),
        "{}",
        answer(&request)
    );
    c.bench_function("compare, as a request", |b| {
        b.iter(|| answer(black_box(&request)));
    });
}

criterion_group!(benches, calls, budgets, jobs, requests);
criterion_main!(benches);
