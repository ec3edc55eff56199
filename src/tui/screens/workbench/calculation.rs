//! What a calculation of the workbench is: what it is called, what it needs, what it gives.

/// How a value of a request is typed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum InputKind {
    /// A whole power; the key is that of its object, and what is typed fills the rows below it.
    Power,
    /// A number that keys step by so much.
    Number(f64),
    /// One of some words.
    Choice(&'static [&'static str]),
}

/// Something a calculation needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    /// Its path in the request, parts joined by points; a part that is a number is a place in a
    /// list. A key that begins with `@` is not sent: it says whose values of a job are taken.
    pub key: String,
    /// What it is called.
    pub label: String,
    /// Its unit as written.
    pub unit: &'static str,
    /// How it is typed.
    pub kind: InputKind,
    /// A value to begin with.
    pub example: String,
    /// Whether the calculation does without.
    pub optional: bool,
    /// Whether the example is a usual value that stays where a job has none of its own.
    pub usual: bool,
    /// The key of the value that this one takes the place of.
    pub instead_of: Option<&'static str>,
}

impl Input {
    pub(super) fn new(
        key: &str,
        label: &str,
        unit: &'static str,
        kind: InputKind,
        example: &str,
    ) -> Self {
        Self {
            key: key.to_owned(),
            label: label.to_owned(),
            unit,
            kind,
            example: example.to_owned(),
            optional: false,
            usual: false,
            instead_of: None,
        }
    }

    /// Not needed; without it the calculation has less to say or takes what is usual.
    pub(super) fn optional(mut self) -> Self {
        self.optional = true;
        self
    }

    /// The example is what is usual.
    pub(super) fn usual(mut self) -> Self {
        self.usual = true;
        self
    }

    /// Only one of the two can be given.
    pub(super) fn instead_of(mut self, key: &'static str) -> Self {
        self.instead_of = Some(key);
        self.optional()
    }

    /// Whether it is part of the request.
    pub fn is_sent(&self) -> bool {
        self.kind != InputKind::Power && !self.key.starts_with('@')
    }
}

/// How a value of a result is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shown {
    /// A power, to the hundredth.
    Power,
    /// A number with its sign.
    Signed(usize),
    /// A number without one.
    Plain(usize),
    /// Prism or place towards the nose or away from it.
    In,
    /// Prism or place up or down.
    Up,
    /// Lines against their limits.
    Lines,
}

/// Something a calculation gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Output {
    /// Its path in the result, parts joined by points.
    pub path: &'static str,
    /// What it is called.
    pub label: &'static str,
    /// Its unit as written.
    pub unit: &'static str,
    /// How it is shown.
    pub shown: Shown,
}

/// One calculation.
#[derive(Debug, Clone, PartialEq)]
pub struct Calculation {
    /// Its name in a request.
    pub name: &'static str,
    /// What the trade calls it.
    pub title: &'static str,
    /// Its family.
    pub group: &'static str,
    /// The formula in words.
    pub formula: &'static str,
    /// Where the formula is published.
    pub source: &'static str,
    /// What it needs, in the order of typing.
    pub inputs: Vec<Input>,
    /// What it gives.
    pub outputs: Vec<Output>,
}

impl Calculation {
    /// Returns the place of an input.
    pub fn place(&self, key: &str) -> Option<usize> {
        self.inputs.iter().position(|i| i.key == key)
    }
}
