//! What each screen says, in a window of 80 by 24 and in one of 120 by 40: the lines that matter, in
//! their order, however they are spaced. The few screens kept whole are in `screens`.

use std::collections::BTreeSet;

use crate::driver::Driver;
use crate::screens::{SCREENS, book};
use crate::screens_say_table::SAYS;
use rimbook::testing::tui::widgets::theme::Theme;

fn at(name: &str) -> Driver {
    let (_, keys) = SCREENS.iter().find(|s| s.0 == name).unwrap();
    let mut d = book();
    d.keys(keys);
    d
}

/// The lines of a screen with one space where there are several.
pub(crate) fn lines(screen: &str) -> Vec<String> {
    screen
        .lines()
        .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "))
        .collect()
}

/// Asserts that a screen says something on its lines, in this order; several may be on one line.
pub(crate) fn says(screen: &str, wanted: &[&str]) {
    let lines = lines(screen);
    let mut from = 0;
    for text in wanted {
        let found = lines[from..].iter().position(|line| line.contains(text));
        match found {
            Some(step) => from += step,
            None => panic!("{text:?} is not there, or too early:\n{screen}"),
        }
    }
}

#[test]
fn each_screen_says_what_matters_and_more_in_a_wide_window() {
    for (name, narrow, wide) in SAYS {
        let d = at(name);
        says(&d.screen(80, 24), narrow);
        // In a wide window the figures beside a section are ordered by what the section is about.
        let shown = d.screen(120, 40);
        let all = lines(&shown).join("\n");
        for text in *wide {
            assert!(all.contains(text), "{name}: {text:?} is not in\n{shown}");
        }
    }
}

/// The words of a screen but for its first line, drawings and what is cut short.
fn words(screen: &str) -> BTreeSet<String> {
    let drawn = |c: char| ('\u{2500}'..='\u{259f}').contains(&c) || c == '✛';
    screen
        .lines()
        .skip(1)
        .flat_map(|line| line.split(|c: char| c.is_whitespace() || drawn(c) || "[]|".contains(c)))
        .filter(|word| !word.contains(['…', '↓']))
        .filter(|word| !word.chars().any(|c| ('\u{2800}'..='\u{28ff}').contains(&c)))
        .map(str::to_owned)
        .collect()
}

/// What lies over a list covers another part of it in another window; the scales of pictures and of
/// the workbench have other steps.
#[test]
fn nothing_that_a_narrow_window_says_is_missing_in_a_wide_one() {
    let mut compared = 0;
    for (name, _) in SCREENS {
        let over = [
            "help",
            "palette",
            "practice_settings",
            "gate_accept",
            "choices_take",
        ];
        if over.contains(name) || name.starts_with("pictures_") || name.starts_with("workbench_") {
            continue;
        }
        let d = at(name);
        let wide = words(&d.screen(120, 40));
        let missing: Vec<_> = words(&d.screen(80, 24))
            .into_iter()
            .filter(|word| !wide.contains(word) && !CARD_SAID_SHORTER.contains(&word.as_str()))
            .collect();
        assert!(missing.is_empty(), "{name}: {missing:?}");
        compared += 1;
    }
    assert!(compared > 20, "{compared}");
}

/// How the card below a list writes what the card beside one has more room for; and the name that the
/// narrow form cannot write in full.
const CARD_SAID_SHORTER: &[&str] = &[
    "(2023-10-02)",
    "(2026-10-06)",
    "33/33",
    "measure",
    "difference",
];

/// In plain characters the pictures say the same, with letters for the signs.
#[test]
fn pictures_in_plain_characters_say_what_the_others_say() {
    let plain: &[(&str, &[&str])] = &[
        (
            "pictures_front",
            &[
                "centres 69.0 mm",
                "R height 20.0 mm",
                "L height 20.0 mm",
                "R....",
                "+",
            ],
        ),
        (
            "pictures_edges",
            &[
                "polycarbonate 1.59 resin 1.60 (ordered)",
                "####",
                "temporal nasal temporal nasal",
                "temporal 4.0 mm | centre 2.0 mm temporal 4.0 mm | centre 2.0 mm",
                "nasal 3.6 mm | weight 5.6 g nasal 3.5 mm | weight 6.0 g",
            ],
        ),
        (
            "pictures_vertex",
            &[
                "[R] L up/down",
                "power, D",
                "***",
                "A***",
                "1",
                "oooA",
                "2",
                "vertex distance, mm",
                "1 **** along 80 deg | 2 oooo along 170 deg",
                "A tested: 12.0 mm, -2.25 D and -3.00 D",
                "along 80 deg, change: 0.000 D",
            ],
        ),
        (
            "pictures_across",
            &[
                "prism, pd",
                "1",
                "A*-----",
                "2",
                "lens off across, in or out, mm",
                "1 **** horizontal prism | 2 oooo vertical prism",
                "A horizontal limit met: 2.3 mm, 0.67 pd",
                "horizontal limit of the pair: 0.67 pd | horizontal, 1 mm off: 0.30 pd",
            ],
        ),
        ("pictures_up", &["A vertical limit met: 1.8 mm, 0.50 pd"]),
        (
            "pictures_tilt",
            &[
                "largest error, D",
                "2",
                "1",
                "B",
                "A",
                "angle, deg",
                "1 **** tilt, face form 3 deg | 2 oooo face form, tilt 8 deg",
                "A tilt as worn: 8 deg, 0.07 D | B face form as worn: 3 deg, 0.07 D",
            ],
        ),
        (
            "pictures_accuracy",
            &[
                "! R CD ## 1.0 mm either way: measure twice",
                "R vertex ################################ 12.8 mm more, less without limit",
                "tilt ##################### 22.0 degrees less, 4.8 more",
            ],
        ),
    ];
    for (name, wanted) in plain {
        let theme = Theme::new(false, None).ascii(true);
        says(&at(name).screen_in(80, 24, theme), wanted);
    }
}
