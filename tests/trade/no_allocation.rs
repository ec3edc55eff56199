//! The formulas of a lens ask for no memory: they may run a million times beside a screen.

use std::hint::black_box;

use allocation_counter::measure;
use rimbook::testing::trade::eye::Eye;
use rimbook::testing::trade::optics::Rx;
use rimbook::testing::trade::optics::as_worn::{WornLens, as_worn, as_worn_compensate};
use rimbook::testing::trade::optics::outline::Outline;
use rimbook::testing::trade::optics::prism::LensPoint;
use rimbook::testing::trade::optics::thickness::{GivenThickness, LensBody, thickness};
use rimbook::testing::trade::optics::tilt::{Tilt, oblique, oblique_compensate};
use rimbook::testing::trade::optics::vertex::vertex;

const RX: Rx = Rx::new(-4.25, -1.5, 37.0);

const TILT: Tilt = Tilt {
    pantoscopic_deg: 9.0,
    face_form_deg: 12.0,
};

const CENTRE: LensPoint = LensPoint {
    in_mm: 2.5,
    up_mm: -1.5,
};

const WORN: WornLens = WornLens {
    index: 1.6,
    front_d: 4.0,
    centre_mm: 1.6,
    tilt: TILT,
    optical_centre: CENTRE,
};

/// How often `work` asks for memory.
fn asked(work: impl FnOnce()) -> u64 {
    measure(work).count_total
}

#[test]
fn the_counter_counts() {
    assert!(asked(|| drop(black_box(vec![1_u8; 100]))) > 0);
}

#[test]
fn powers_as_worn_ask_for_no_memory() {
    assert_eq!(
        asked(|| {
            black_box(as_worn(Eye::Right, RX, WORN).unwrap());
        }),
        0
    );
    assert_eq!(
        asked(|| {
            black_box(as_worn_compensate(Eye::Left, RX, WORN).unwrap());
        }),
        0
    );
    assert_eq!(
        asked(|| {
            black_box(oblique(Eye::Left, RX, 1.6, TILT).unwrap());
        }),
        0
    );
    assert_eq!(
        asked(|| {
            black_box(oblique_compensate(Eye::Left, RX, 1.6, TILT).unwrap());
        }),
        0
    );
    assert_eq!(
        asked(|| {
            black_box(vertex(RX, 13.5, 11.0).unwrap());
        }),
        0
    );
}

#[test]
fn a_finished_lens_asks_for_no_memory() {
    for given in [GivenThickness::Thinnest(1.3), GivenThickness::Centre(2.0)] {
        let body = LensBody {
            rx: RX,
            index: 1.6,
            base_d: 4.0,
            base_index: 1.53,
            centre: CENTRE,
            given,
        };
        let count = asked(|| {
            let outline = Outline::from_box(52.0, 37.0, 56.0).unwrap();
            black_box(thickness(Eye::Left, body, &outline).unwrap());
        });
        assert_eq!(count, 0);
    }
}
