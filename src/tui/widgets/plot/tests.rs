//! Every kind of picture, in every size.

use ratatui::Terminal;
use ratatui::backend::TestBackend;

use super::*;
use crate::trade::eye::Eye;
use crate::trade::optics::Rx;
use crate::trade::optics::outline::Outline;
use crate::trade::optics::prism::{LensPoint, Prism};
use crate::trade::optics::thickness::{GivenThickness, LensBody};
use crate::views::plot::section::{Made, sections};
use crate::views::plot::{
    Axis, Bar, Bars, Limit, Mark, Plot, Section, Series, budget, prism_compass, vertex,
};

fn pictures() -> Vec<Picture> {
    let body = |index| LensBody {
        rx: Rx::new(-5.0, -1.0, 90.0),
        index,
        base_d: 3.5,
        base_index: 1.53,
        centre: LensPoint {
            in_mm: 3.0,
            up_mm: 2.0,
        },
        given: GivenThickness::Centre(1.5),
    };
    let made: Vec<Made> = [1.5, 1.6, 1.74]
        .into_iter()
        .map(|index| Made {
            name: format!("resin {index:.2}"),
            body: body(index),
            density_g_cm3: Some(1.3),
        })
        .collect();
    let outline = Outline::from_box(52.0, 38.0, 56.0).unwrap();
    let row = |label: &str, minus, plus, unit, strong| budget::BudgetRow {
        label: label.to_owned(),
        minus,
        plus,
        unit,
        strong,
    };
    vec![
        Picture::Plot(
            vertex::vertex_plot("right eye", Rx::new(-10.0, -2.0, 30.0), 12.0, Some(14.0)).unwrap(),
        ),
        Picture::Plot(prism_compass::prism_compass(
            Eye::Left,
            Prism {
                base_in_delta: 3.0,
                base_up_delta: -1.5,
            },
        )),
        Picture::Bars(budget::budget_bars(&[
            row("R CD", Some(1.2), Some(0.8), "mm", true),
            row("L vertex distance", None, Some(6.0), "mm", false),
            row("tilt", Some(4.0), None, "°", false),
            row("face form", None, None, "°", false),
        ])),
        sections("edges", Eye::Right, &outline, &made),
        Picture::Missing("record the tested vertex distance – it is not there".to_owned()),
        Picture::Plot(odd()),
    ]
}

/// A plot with everything in it that is no place.
fn odd() -> Plot {
    let bad = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300];
    let points = |shift: f64| {
        (0u8..20)
            .map(|i| {
                let x = f64::from(i);
                let y = bad.get(usize::from(i % 7)).copied().unwrap_or(x + shift);
                (x, y)
            })
            .collect()
    };
    Plot {
        title: "odd".to_owned(),
        x: Axis::new("x", "mm"),
        y: Axis::new("y", "D"),
        series: vec![
            Series {
                name: "a".to_owned(),
                points: points(0.0),
            },
            Series {
                name: "none".to_owned(),
                points: Vec::new(),
            },
        ],
        marks: vec![
            Mark {
                name: "nowhere".to_owned(),
                x: f64::NAN,
                y: 1.0,
            },
            Mark {
                name: "somewhere".to_owned(),
                x: 5.0,
                y: 7.0,
            },
        ],
        limits: vec![Limit {
            name: "no limit".to_owned(),
            y: f64::INFINITY,
        }],
        ..Plot::default()
    }
}

fn drawn(picture: &Picture, width: u16, height: u16, ascii: bool) -> Vec<String> {
    let theme = Theme::new(false, None).ascii(ascii);
    let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
    terminal
        .draw(|f| draw(f, f.area(), picture, theme))
        .unwrap();
    let buffer = terminal.backend().buffer();
    (0..height)
        .map(|y| (0..width).map(|x| buffer[(x, y)].symbol()).collect())
        .collect()
}

#[test]
fn any_picture_is_drawn_in_any_area_and_ascii_stays_ascii() {
    for picture in pictures() {
        for height in (1..=60).step_by(4).chain([2, 3, 4, 6, 7, 8]) {
            for width in (1..=200).step_by(13).chain([2, 3, 16, 17, 18, 56, 95, 96]) {
                drop(drawn(&picture, width, height, false));
                let all = drawn(&picture, width, height, true).join("\n");
                assert!(all.is_ascii(), "{width}x{height}\n{all}");
            }
        }
    }
}

#[test]
fn what_is_no_number_is_neither_drawn_nor_an_axis() {
    for ascii in [false, true] {
        let all = drawn(&Picture::Plot(odd()), 80, 20, ascii);
        let chart = all[..12].join("\n");
        assert!(!chart.contains("NaN") && !chart.contains("inf"), "{chart}");
        assert!(chart.contains('B'), "{chart}");
    }
    let nothing = Plot {
        series: vec![Series {
            name: "a".to_owned(),
            points: vec![(f64::NAN, 1.0)],
        }],
        ..odd()
    };
    let nothing = Plot {
        marks: Vec::new(),
        ..nothing
    };
    let all = drawn(&Picture::Plot(nothing), 60, 14, false).join("\n");
    assert!(all.contains("nothing of it can be drawn"), "{all}");
}

#[test]
fn a_mark_stands_between_the_numbers_of_the_axes_it_lies_between() {
    let plot = Plot {
        title: "t".to_owned(),
        x: Axis::new("x", "mm"),
        y: Axis::new("y", "D"),
        series: vec![Series {
            name: "a".to_owned(),
            points: vec![(0.0, 0.0), (10.0, 10.0)],
        }],
        marks: vec![Mark {
            name: "m".to_owned(),
            x: 4.0,
            y: 4.0,
        }],
        ..Plot::default()
    };
    for (width, height) in [(56, 14), (80, 20), (120, 36)] {
        let lines: Vec<Vec<char>> = drawn(&Picture::Plot(plot.clone()), width, height, true)
            .iter()
            .map(|l| l.chars().collect())
            .collect();
        // The axis carries a tick at each round number: the mark is over the one that reads 4.
        let base = lines
            .iter()
            .position(|l| l.iter().filter(|c| **c == '+').count() > 2)
            .unwrap();
        let right = lines[base].iter().rposition(|c| *c == '+').unwrap();
        let (row, column) = lines[1..base]
            .iter()
            .enumerate()
            .find_map(|(y, l)| {
                l.iter()
                    .take(right)
                    .position(|c| *c == 'A')
                    .map(|x| (y + 1, x))
            })
            .unwrap();
        let numbers: String = lines[base + 1].iter().collect();
        assert_eq!(lines[base][column], '+', "{width}");
        assert_eq!(numbers.chars().nth(column), Some('4'), "{width}: {numbers}");
        let left: String = lines[row].iter().take(4).collect();
        let is_beside = left.contains('4');
        let has_four = lines[1..base]
            .iter()
            .any(|l| l.iter().take(4).collect::<String>().contains("4+"));
        assert!(is_beside || !has_four, "{width}: {left}");
    }
}

#[test]
fn sections_are_to_one_scale() {
    let slab = |thick: f64| Section {
        name: format!("{thick} mm"),
        front: vec![(-25.0, 0.0), (25.0, 0.0)],
        back: vec![(-25.0, -thick), (25.0, -thick)],
        numbers: Vec::new(),
    };
    let picture = Picture::Sections {
        title: "t".to_owned(),
        sections: vec![slab(4.0), slab(8.0)],
    };
    let dots = |columns: std::ops::Range<usize>| -> u32 {
        drawn(&picture, 100, 10, false)
            .iter()
            .flat_map(|l| l.chars().collect::<Vec<_>>()[columns.clone()].to_vec())
            .filter(|c| ('\u{2800}'..='\u{28ff}').contains(c))
            .map(|c| (u32::from(c) - 0x2800).count_ones())
            .sum()
    };
    let (thin, thick) = (dots(0..50), dots(50..100));
    assert!(thin > 0);
    let ratio = f64::from(thick) / f64::from(thin);
    assert!((1.7..=2.1).contains(&ratio), "{thin} {thick}");
    // A slab 50 mm wide and 8 mm deep: a dot is a square of about half a millimetre.
    let per_mm2 = f64::from(thick) / 400.0;
    assert!((3.0..=5.0).contains(&per_mm2), "{per_mm2}");
}

#[test]
fn bars_of_one_unit_are_as_long_as_their_values_and_strong_ones_are_marked() {
    let bar = |label: &str, value, unit, strong| Bar {
        label: label.to_owned(),
        value,
        unit,
        text: String::new(),
        strong,
    };
    let picture = Picture::Bars(Bars {
        title: "t".to_owned(),
        bars: vec![
            bar("a", Some(1.0), "mm", true),
            bar("b", Some(4.0), "mm", false),
            bar("c", Some(20.0), "degrees", false),
            bar("d", None, "degrees", false),
        ],
    });
    let lines = drawn(&picture, 80, 12, true);
    let long = |i: usize| lines[i].matches('#').count();
    assert!(long(2).abs_diff(4 * long(1)) <= 3, "{lines:#?}");
    assert_eq!(long(2), long(3), "the longest of each unit is full");
    assert!(lines[1].starts_with('!') && !lines[2].starts_with('!'));
    assert!(lines[4].contains('>'));
}

#[test]
#[ignore = "prints the pictures for looking at"]
fn look() {
    for picture in pictures() {
        for (width, height, ascii) in [(56, 14, false), (78, 18, true), (116, 32, false)] {
            eprintln!("{}\n", drawn(&picture, width, height, ascii).join("\n"));
        }
    }
}
