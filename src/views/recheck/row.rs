//! One row of the comparison: the values of all sources, and their differences.

use crate::trade::tolerance::DUST;
use serde_json::{Value, json};

use super::parameter::{Parameter, Source};
use crate::trade::eye::Eye;

/// A value as it was recorded.
#[derive(Debug, Clone, PartialEq)]
pub enum ComparedValue {
    /// A number in the parameter's unit.
    Number(f64),
    /// Words.
    Words(String),
}

/// One value for each source, the oldest first.
pub(crate) type Values = [Option<ComparedValue>; 6];

/// The difference between two values of a row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Difference {
    /// The older one.
    pub from: Source,
    /// The newer one.
    pub to: Source,
    /// The newer value less the older, in the parameter's unit; `None` between words.
    pub size: Option<f64>,
    /// Size from which it is suspected; `None` where every difference is, or none is judged.
    pub limit: Option<f64>,
    /// Whether it is suspected.
    pub beyond: bool,
}

/// One row.
#[derive(Debug, Clone, PartialEq)]
pub struct ComparedRow {
    /// What.
    pub parameter: Parameter,
    /// The eye; `None` for the pair.
    pub eye: Option<Eye>,
    /// The values.
    pub values: Values,
    /// The differences, where both values are recorded.
    pub differences: Vec<Difference>,
    /// Reason for an unusual limit, or for none.
    pub note: Option<&'static str>,
}

/// How the differences of a row are judged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Judge {
    /// Suspected from this size on.
    From(f64),
    /// Suspected from this size on, an increase from the second on.
    FromOrMore(f64, f64),
    /// Anything that is not the same is suspected.
    Any,
    /// Shown, never suspected.
    Shown,
}

impl ComparedRow {
    /// Makes a row and judges the differences between the sources given.
    pub(super) fn of(
        parameter: Parameter,
        eye: Option<Eye>,
        values: Values,
        between: &[(Source, Source)],
        judge: Judge,
    ) -> Self {
        let differences = between
            .iter()
            .filter_map(|(from, to)| {
                let (old, new) = (values[from.place()].as_ref()?, values[to.place()].as_ref()?);
                difference(parameter, (*from, *to), (old, new), judge)
            })
            .collect();
        Self {
            parameter,
            eye,
            values,
            differences,
            note: None,
        }
    }

    pub(super) fn noted(mut self, note: Option<&'static str>) -> Self {
        self.note = note;
        self
    }

    /// Whether a difference is suspected.
    pub fn is_beyond(&self) -> bool {
        self.differences.iter().any(|d| d.beyond)
    }

    /// Whether there is anything to compare.
    pub fn is_compared(&self) -> bool {
        !self.differences.is_empty()
    }

    /// The difference that matters most: suspected before the rest, then the largest for its limit.
    pub fn worst(&self) -> Option<&Difference> {
        self.differences.iter().max_by(|a, b| {
            let weight = |d: &Difference| {
                let size = d.size.map_or(0.0, f64::abs);
                d.limit.map_or(size, |l| size / l.max(DUST))
            };
            (a.beyond.cmp(&b.beyond)).then(weight(a).total_cmp(&weight(b)))
        })
    }

    /// A value as it is shown.
    pub fn shown(&self, source: Source) -> Option<String> {
        self.values[source.place()].as_ref().map(|v| match v {
            ComparedValue::Number(n) => number(self.parameter, *n, false),
            ComparedValue::Words(w) => w.clone(),
        })
    }

    /// Whose and what, as a person says it.
    pub fn name(&self) -> String {
        let title = self.parameter.title();
        match self.eye {
            Some(eye) => format!("{} {title}", eye.word()),
            None => title.to_owned(),
        }
    }

    /// What a difference says, one sentence without its full stop.
    pub fn says(&self, d: &Difference) -> String {
        let unit = match self.parameter.unit() {
            "" => String::new(),
            unit => format!(" {unit}"),
        };
        let value = |s: Source| self.shown(s).unwrap_or_else(|| NOT_RECORDED.to_owned());
        let size = d.size.map_or_else(String::new, |size| {
            if self.parameter == Parameter::Power {
                format!(": {size:.2}{unit} as vectors")
            } else {
                format!(": {}{unit}", number(self.parameter, size, true))
            }
        });
        let limit = d.limit.map_or_else(String::new, |limit| {
            let of = if self.parameter.is_made() {
                "limit of the standard"
            } else {
                "suspect from"
            };
            format!(" ({of} {})", short(limit))
        });
        format!(
            "{}: {} {}, {} {}{size}{limit}",
            self.name(),
            d.from.word(),
            value(d.from),
            d.to.word(),
            value(d.to)
        )
    }

    /// The row for programs.
    pub fn to_json(&self) -> Value {
        let values: serde_json::Map<String, Value> = Source::ALL
            .iter()
            .filter_map(|s| {
                let value = match self.values[s.place()].as_ref()? {
                    ComparedValue::Number(n) => json!(thousandth(*n)),
                    ComparedValue::Words(w) => json!(w),
                };
                Some((s.word().replace(' ', "_"), value))
            })
            .collect();
        json!({
            "what": self.parameter.key(),
            "eye": self.eye,
            "unit": self.parameter.unit(),
            "values": values,
            "beyond": self.is_beyond(),
            "differences": self.differences.iter().map(|d| json!({
                "from": d.from, "to": d.to, "size": d.size.map(thousandth),
                "limit": d.limit.map(thousandth), "beyond": d.beyond, "says": self.says(d),
            })).collect::<Vec<_>>(),
            "note": self.note,
        })
    }
}

/// Shown where there is no value.
pub(crate) const NOT_RECORDED: &str = "not recorded";

/// A limit as shown: up to two decimals.
pub(crate) fn short(limit: f64) -> String {
    let text = format!("{limit:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn thousandth(n: f64) -> f64 {
    // Adding zero turns a negative zero into zero.
    (n * 1000.0).round() / 1000.0 + 0.0
}

fn number(parameter: Parameter, n: f64, signed: bool) -> String {
    let decimals = parameter.decimals();
    // Rounding must not leave a sign on a zero.
    let scale = 10_f64.powi(i32::try_from(decimals).unwrap_or(0));
    let n = (n * scale).round() / scale + 0.0;
    let plus = signed || parameter.unit() == "D" || parameter.unit() == "Δ";
    if plus && n != 0.0 {
        format!("{n:+.decimals$}")
    } else {
        format!("{n:.decimals$}")
    }
}

fn difference(
    parameter: Parameter,
    (from, to): (Source, Source),
    values: (&ComparedValue, &ComparedValue),
    judge: Judge,
) -> Option<Difference> {
    let (size, is_other) = match values {
        (ComparedValue::Number(old), ComparedValue::Number(new)) => {
            let size = match parameter {
                Parameter::Axis => axis_turn(*old, *new),
                _ => new - old,
            };
            if !size.is_finite() {
                return None;
            }
            (Some(size), size.abs() > DUST)
        }
        (ComparedValue::Words(old), ComparedValue::Words(new)) => {
            let plain = |t: &str| t.trim().to_lowercase();
            (None, plain(old) != plain(new))
        }
        _ => return None,
    };
    let limit = match judge {
        Judge::From(limit) => Some(limit),
        Judge::FromOrMore(limit, more) => Some(if size.is_some_and(|s| s > 0.0) {
            more
        } else {
            limit
        }),
        Judge::Any | Judge::Shown => None,
    };
    let beyond = match (judge, limit, size) {
        (Judge::Shown, ..) => false,
        (_, Some(limit), Some(size)) => size.abs() + DUST >= limit,
        _ => is_other,
    };
    Some(Difference {
        from,
        to,
        size,
        limit,
        beyond,
    })
}

/// The turn from one axis to another, degrees, more than -90 and at most 90.
pub(super) fn axis_turn(old: f64, new: f64) -> f64 {
    let turn = (new - old).rem_euclid(180.0);
    if turn > 90.0 { turn - 180.0 } else { turn }
}
