//! The one form in which the program itself writes a prescription.

use std::fmt::Write as _;

use super::reading::{Eighths, PrismBase, WrittenPrism, WrittenRx};

/// Writes a prescription so that [`read`](super::read) gives the same value back:
/// `-2.25 / -0.75 x 90 add +2.00 1.50 in 0.50 up near 3.00 in`.
///
/// Quarters have two decimals; eighths have three, since two would round them.
pub fn written(rx: &WrittenRx) -> String {
    let mut line = if rx.sphere == Eighths(0) {
        "plano".to_owned()
    } else {
        power(rx.sphere)
    };
    if let Some((cylinder, axis)) = rx.cylinder.zip(rx.axis_deg) {
        add(&mut line, format_args!(" / {} x {axis}", power(cylinder)));
    }
    if let Some(addition) = rx.addition {
        add(&mut line, format_args!(" add {}", power(addition)));
    }
    if let Some(addition) = rx.intermediate_addition {
        add(&mut line, format_args!(" int {}", power(addition)));
    }
    prisms(&mut line, &rx.prism);
    if !rx.near_prism.is_empty() {
        line.push_str(" near");
        prisms(&mut line, &rx.near_prism);
    }
    if let Some(vertex) = rx.vertex_mm {
        add(
            &mut line,
            format_args!(" BVD {}", decimals(vertex.thousandths(), 0)),
        );
    }
    if let Some(acuity) = &rx.acuity {
        add(&mut line, format_args!(" {acuity}"));
    }
    line
}

fn prisms(line: &mut String, prism: &[WrittenPrism]) {
    for prism in prism {
        let amount = decimals(prism.amount.thousandths(), 2);
        match prism.base {
            PrismBase::Up => add(line, format_args!(" {amount} up")),
            PrismBase::Down => add(line, format_args!(" {amount} down")),
            PrismBase::In => add(line, format_args!(" {amount} in")),
            PrismBase::Out => add(line, format_args!(" {amount} out")),
            PrismBase::Angle(degrees) => {
                add(line, format_args!(" prism {amount} @ {degrees}"));
            }
        }
    }
}

fn add(line: &mut String, piece: std::fmt::Arguments) {
    // Writing to a string cannot fail.
    let _ = line.write_fmt(piece);
}

fn power(eighths: Eighths) -> String {
    let sign = match eighths.0 {
        0 => "",
        1.. => "+",
        _ => "-",
    };
    format!("{sign}{}", decimals(i32::from(eighths.0).abs() * 125, 2))
}

/// Writes thousandths with as many decimals as they need, and no fewer than `fewest`.
fn decimals(thousandths: i32, fewest: usize) -> String {
    let fraction = format!("{:03}", thousandths.unsigned_abs() % 1000);
    let needed = fraction.trim_end_matches('0').len().max(fewest);
    let whole = thousandths.unsigned_abs() / 1000;
    if needed == 0 {
        whole.to_string()
    } else {
        format!(
            "{whole}.{}",
            fraction.chars().take(needed).collect::<String>()
        )
    }
}
