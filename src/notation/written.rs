//! The form in which a prescription is written out again.

use std::fmt::Write as _;

use super::rx::{Eighths, PrismBase, WrittenRx};

/// Returns the one form of a prescription, which [`super::read`] reads back to the same value.
///
/// Odd eighths have three decimals, so that no spelling has to be explained:
/// `-1.125 -0.50 x 90 Add +2.00 1.5Δ BU VA 6/6 BVD 12 mm`.
pub fn written(rx: &WrittenRx) -> String {
    let mut out = power(rx.sphere);
    if let (Some(cylinder), Some(axis)) = (rx.cylinder, rx.axis_deg) {
        push(&mut out, format_args!("{} x {axis}", power(cylinder)));
    }
    if let Some(addition) = rx.addition {
        push(&mut out, format_args!("Add {}", power(addition)));
    }
    for prism in &rx.prism {
        let amount = prism.amount.get();
        match prism.base {
            PrismBase::Up => push(&mut out, format_args!("{amount}Δ BU")),
            PrismBase::Down => push(&mut out, format_args!("{amount}Δ BD")),
            PrismBase::In => push(&mut out, format_args!("{amount}Δ BI")),
            PrismBase::Out => push(&mut out, format_args!("{amount}Δ BO")),
            PrismBase::Angle(degrees) => push(&mut out, format_args!("{amount}Δ @ {degrees}")),
        }
    }
    if let Some(acuity) = &rx.acuity {
        push(&mut out, format_args!("VA {acuity}"));
    }
    if let Some(vertex) = rx.vertex_mm {
        push(&mut out, format_args!("BVD {} mm", vertex.get()));
    }
    out
}

fn push(out: &mut String, part: std::fmt::Arguments<'_>) {
    out.push(' ');
    // Writing to a string does not fail.
    let _ = out.write_fmt(part);
}

fn power(eighths: Eighths) -> String {
    let decimals = if eighths.0 % 2 == 0 { 2 } else { 3 };
    format!("{:+.decimals$}", eighths.to_dioptre())
}
