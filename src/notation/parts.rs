//! Steps 5 and 7: the parts of one eye, in their order, and cylinder and axis together.

mod extras;

use super::error::{ErrorKind, Issues};
use super::eyes::{Label, Part};
use super::number::{CYLINDER_LIMIT, Numeral, SPHERE_LIMIT};
use super::prism;
use super::rx::{Eighths, WrittenRx};
use super::tokens::{Kind, Token};
use super::words::Word;

/// What one part of a line says.
#[derive(Debug, Clone, Default)]
pub(super) struct Found {
    /// The prescription, complete only when no check failed.
    pub rx: WrittenRx,
    /// The addition marked for both eyes, and its place.
    pub for_both: Option<(usize, Eighths)>,
    /// The place of an addition that is not marked for both eyes.
    pub addition_at: Option<usize>,
}

/// Reads the tokens of one eye and notes every check that fails.
pub(super) fn read(part: &Part, last: bool, issues: &mut Issues) -> Found {
    let mut reader = Reader {
        tokens: &part.tokens,
        at: 0,
        last,
        label: part.label,
        issues,
        found: Found::default(),
        sphere: None,
        marked_sphere: false,
        cylinder: None,
        axis: None,
        after_powers: false,
    };
    while let Some(token) = reader.tokens.get(reader.at) {
        reader.at += 1;
        reader.one(token);
    }
    if reader.sphere.is_none() && !reader.issues.any_from(5, part.place) {
        reader
            .issues
            .add(5, part.place, ErrorKind::SphereMissing, "");
    }
    reader.cylinder_and_axis();
    reader.found
}

struct Reader<'a> {
    tokens: &'a [Token],
    at: usize,
    /// Whether this is the last part of the line.
    last: bool,
    label: Option<Label>,
    issues: &'a mut Issues,
    found: Found,
    /// The place of the sphere.
    sphere: Option<usize>,
    /// Whether the sphere is marked as one, so that no cylinder need follow.
    marked_sphere: bool,
    /// The cylinder and its token.
    cylinder: Option<(&'a Token, Option<i16>)>,
    /// The axis and its token.
    axis: Option<(&'a Token, Option<u16>)>,
    /// Whether an addition, prism, acuity or vertex distance has come.
    after_powers: bool,
}

impl<'a> Reader<'a> {
    fn kind(&self, ahead: usize) -> Option<&'a Kind> {
        self.tokens.get(self.at + ahead).map(|t| &t.kind)
    }

    fn skip(&mut self, wanted: impl Fn(&Kind) -> bool) -> bool {
        let found = self.kind(0).is_some_and(wanted);
        self.at += usize::from(found);
        found
    }

    fn skip_degree(&mut self) {
        self.skip(|k| matches!(k, Kind::Degree | Kind::Word(Word::Degrees)));
    }

    fn unit(&mut self) -> Option<(&'a Token, Word)> {
        let token = self.tokens.get(self.at)?;
        match token.kind {
            Kind::Word(word) if word.is_unit() => {
                self.at += 1;
                Some((token, word))
            }
            _ => None,
        }
    }

    /// Takes the number after a word and an optional colon; text in its place is refused.
    fn value(
        &mut self,
        word: &Token,
        missing: (u8, ErrorKind),
    ) -> Option<(&'a Token, &'a Numeral)> {
        self.skip(|k| *k == Kind::Colon);
        let token = self.tokens.get(self.at);
        match token.map(|t| (t, &t.kind)) {
            Some((token, Kind::Number(numeral))) => {
                self.at += 1;
                return Some((token, numeral));
            }
            Some((token, Kind::Unknown)) => {
                self.at += 1;
                self.issues
                    .add(5, token.place, ErrorKind::UnexpectedText, &token.text);
            }
            _ => self
                .issues
                .add(missing.0, word.place, missing.1, &word.text),
        }
        None
    }

    fn one(&mut self, token: &'a Token) {
        match &token.kind {
            Kind::Number(numeral) => self.number(token, numeral),
            Kind::Word(word) => self.word(token, *word),
            Kind::Acuity => self.acuity(token),
            Kind::At => self.at_sign(token),
            Kind::PrismMark => self.refuse(9, token, ErrorKind::PrismAmountMissing),
            Kind::Separator(c) => self.separator(token, *c),
            Kind::Ampersand => self.and(token),
            Kind::Dash => self.nothing(token),
            Kind::Unknown if self.sphere.is_none() => {
                self.refuse(5, token, ErrorKind::UnexpectedText);
            }
            Kind::Unknown | Kind::Colon | Kind::Degree => self.unexpected(token),
        }
    }

    fn refuse(&mut self, step: u8, token: &Token, kind: ErrorKind) {
        self.issues.add(step, token.place, kind, &token.text);
    }

    fn unexpected(&mut self, token: &Token) {
        self.refuse(10, token, ErrorKind::UnexpectedText);
    }

    fn word(&mut self, token: &'a Token, word: Word) {
        match word {
            Word::Plano if self.sphere.is_none() => {
                self.sphere = Some(token.place);
                self.marked_sphere = true;
                if let Some((_, Word::Cylinder)) = self.unit() {
                    self.refuse(5, token, ErrorKind::SphereMissing);
                }
            }
            Word::Plano => self.second_prescription(token),
            Word::Axis => self.axis_mark(token),
            Word::Addition | Word::AdditionBoth => self.addition(token, word == Word::AdditionBoth),
            Word::Prism => {
                self.after_powers = true;
                if let Some((amount, numeral)) =
                    self.value(token, (9, ErrorKind::PrismAmountMissing))
                {
                    self.prism(amount, numeral, true);
                }
            }
            Word::Base | Word::BaseTo(_) | Word::TwoBases => {
                self.skip(|k| matches!(k, Kind::Word(Word::Direction(_) | Word::Letter)));
                self.refuse(9, token, ErrorKind::PrismAmountMissing);
            }
            Word::Split => self.refuse(9, token, ErrorKind::PrismSplitAmbiguous),
            Word::And => self.and(token),
            Word::Vertex => self.vertex(token),
            Word::Acuity => self.acuity_word(token),
            Word::Near
                if matches!(
                    self.kind(0),
                    Some(Kind::Word(Word::Addition | Word::AdditionBoth))
                ) => {}
            Word::Near => self.refuse(5, token, ErrorKind::NearRxNotDistance),
            Word::Intermediate => {
                self.refuse(5, token, ErrorKind::IntermediateAdditionNotSupported);
            }
            Word::Balance => self.refuse(5, token, ErrorKind::BalanceLensNotAPower),
            Word::PupilDistance => self.refuse(5, token, ErrorKind::PdNotPartOfRxLine),
            Word::Nothing => self.nothing(token),
            Word::Label(_)
            | Word::AnEye
            | Word::Dioptre
            | Word::Sphere
            | Word::Cylinder
            | Word::Degrees
            | Word::Direction(_)
            | Word::Letter
            | Word::Distance
            | Word::Millimetres => self.unexpected(token),
        }
    }

    /// A mark for "no value", which is a refusal of its own where the sphere belongs.
    fn nothing(&mut self, token: &Token) {
        if self.sphere.is_none() && !self.after_powers {
            self.refuse(5, token, ErrorKind::NoValue);
        } else {
            self.unexpected(token);
        }
    }

    fn number(&mut self, token: &'a Token, numeral: &'a Numeral) {
        let next = self.tokens.get(self.at..).unwrap_or_default();
        let could_be_sphere = numeral.is_signed() && self.sphere.is_none();
        if prism::follows_amount(next, could_be_sphere) {
            self.prism(token, numeral, false);
        } else if self.after_powers && self.sphere.is_some() {
            self.one_too_many(token, numeral);
        } else if self.sphere.is_none() {
            let power = self.power(token, numeral, SPHERE_LIMIT, ErrorKind::SphereOutOfRange);
            self.found.rx.sphere = Eighths(power.unwrap_or(0));
            self.sphere = Some(token.place);
            match self.unit() {
                Some((_, Word::Cylinder)) => self.refuse(5, token, ErrorKind::SphereMissing),
                Some((_, Word::Sphere)) => self.marked_sphere = true,
                _ => {}
            }
        } else if self.cylinder.is_none() && self.axis.is_none() {
            self.second_power(token, numeral);
        } else if self.axis.is_none() && (!numeral.is_signed() || numeral.is_whole_of_two_figures())
        {
            self.take_axis(token, numeral);
        } else {
            self.one_too_many(token, numeral);
        }
    }

    fn second_power(&mut self, token: &'a Token, numeral: &'a Numeral) {
        let before = self.at;
        if let Some((unit, Word::Sphere)) = self.unit() {
            let axis_follows = matches!(self.kind(0), Some(Kind::Word(Word::Axis)));
            if self.marked_sphere && !axis_follows {
                self.at = before;
                return self.second_prescription(token);
            }
            self.refuse(5, unit, ErrorKind::DsOnCylinder);
        }
        let power = self.power(
            token,
            numeral,
            CYLINDER_LIMIT,
            ErrorKind::CylinderOutOfRange,
        );
        self.cylinder = Some((token, power));
    }

    /// Returns a signed power and notes the first of its checks that fails.
    fn power(
        &mut self,
        token: &Token,
        numeral: &Numeral,
        limit: i16,
        beyond: ErrorKind,
    ) -> Option<i16> {
        match numeral.power(true) {
            Ok(power) if power.abs() <= limit => Some(power),
            Ok(_) => {
                self.refuse(9, token, beyond);
                None
            }
            Err(kind) => {
                self.refuse(6, token, kind);
                None
            }
        }
    }

    /// A number for which no place is left: a second prescription, or one value too many.
    fn one_too_many(&mut self, token: &'a Token, numeral: &Numeral) {
        let unit = matches!(self.kind(0), Some(Kind::Word(w)) if w.is_unit());
        let sphere = matches!(self.kind(0), Some(Kind::Word(Word::Sphere)));
        let slash = matches!(self.kind(usize::from(unit)), Some(Kind::Separator(_)));
        let next = self.kind(usize::from(unit) + usize::from(slash));
        let another = matches!(next, Some(Kind::Number(n)) if n.is_signed());
        if numeral.is_signed() && (sphere || another) {
            self.second_prescription(token);
        } else {
            self.refuse(5, token, ErrorKind::TooManyValues);
            self.pass_powers();
        }
    }

    /// A second prescription in one part: an eye without its label.
    fn second_prescription(&mut self, token: &Token) {
        if self.label.is_some() && !self.last {
            self.refuse(5, token, ErrorKind::TooManyValues);
        } else {
            self.refuse(4, token, ErrorKind::EyeLabelMissing);
        }
        self.pass_powers();
    }

    /// Passes over what belongs to refused powers, which would only be refused again.
    fn pass_powers(&mut self) {
        while self.skip(|k| match k {
            Kind::Number(_) | Kind::Degree => true,
            Kind::Word(w) => w.is_unit() || matches!(w, Word::Axis | Word::Degrees),
            _ => false,
        }) {}
    }

    fn axis_mark(&mut self, token: &'a Token) {
        if self.axis.is_some() || (self.after_powers && self.cylinder.is_some()) {
            self.refuse(5, token, ErrorKind::TooManyValues);
            return self.pass_powers();
        }
        if self.sphere.is_some() && self.cylinder.is_none() {
            let kind = if self.marked_sphere {
                ErrorKind::AxisWithoutCylinder
            } else {
                ErrorKind::SphereOrCylinderMissing
            };
            self.refuse(7, token, kind);
            return self.pass_powers();
        }
        if let Some((value, numeral)) = self.value(token, (7, ErrorKind::AxisMissing)) {
            self.take_axis(value, numeral);
        } else {
            self.axis = Some((token, None));
        }
    }

    fn take_axis(&mut self, token: &'a Token, numeral: &Numeral) {
        let axis = match numeral.axis() {
            Ok(axis) => Some(axis),
            Err(kind) => {
                self.refuse(7, token, kind);
                None
            }
        };
        self.axis = Some((token, axis));
        self.skip_degree();
    }

    /// Step 7: both or neither, and a cylinder of zero is no cylinder.
    fn cylinder_and_axis(&mut self) {
        let (Some((cylinder, power)), axis) = (self.cylinder, self.axis) else {
            return;
        };
        let zero = power == Some(0);
        match axis {
            None | Some((_, Some(0))) if zero => {}
            None => self.refuse(7, cylinder, ErrorKind::AxisMissing),
            Some((token, Some(_))) if zero => {
                self.refuse(7, token, ErrorKind::AxisWithZeroCylinder);
            }
            Some((token, Some(0))) => self.refuse(7, token, ErrorKind::AxisZeroUse180),
            Some((_, degrees)) => {
                self.found.rx.cylinder = power.map(Eighths);
                self.found.rx.axis_deg = degrees;
            }
        }
    }

    fn at_sign(&mut self, token: &Token) {
        if self.after_powers {
            self.unexpected(token);
        } else {
            self.refuse(5, token, ErrorKind::AtSignIsMeridianNotAxis);
        }
        self.pass_powers();
    }

    /// "and" stands between two prisms, or before the label of the other eye.
    fn and(&mut self, token: &Token) {
        let prisms =
            !self.found.rx.prism.is_empty() && matches!(self.kind(0), Some(Kind::Number(_)));
        let eyes = self.kind(0).is_none() && !self.last && self.sphere.is_some();
        if !prisms && !eyes {
            self.unexpected(token);
        }
    }

    /// A separator stands once between two fields; the line may end in `;` or `|`.
    fn separator(&mut self, token: &Token, c: char) {
        let first = self.at == 1;
        let doubled = self
            .kind(0)
            .is_some_and(|k| matches!(k, Kind::Separator(_)));
        let opens = first && !(self.label.is_some() && matches!(c, '|' | ','));
        let ends = self.at == self.tokens.len() && self.last && !matches!(c, ';' | '|');
        if opens || doubled || ends {
            self.unexpected(token);
        }
    }
}
