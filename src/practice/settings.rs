//! What a practice has chosen: its standard, and its own thresholds where they differ.

use serde::{Deserialize, Serialize};

use super::printing::{self, Paper, Printing};
use super::suspects::{Suspect, Suspects};
use super::thresholds::{Threshold, Thresholds};
use super::ways::{Closed, Way};
use crate::job::NumberRule;
use crate::trade::tolerance::{Options, PrismPower, Standard};

/// The practice's settings that decide what the checks say.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Practice {
    /// Name on screens and sheets.
    pub name: String,
    /// The tolerance standard.
    pub standard: Standard,
    /// How the standard is applied where it leaves a choice.
    pub options: Options,
    /// Thresholds that differ from their defaults.
    pub thresholds: Thresholds,
    /// Limits of suspicion about a pair that came back, where they differ from their defaults.
    #[serde(skip_serializing_if = "Suspects::is_default")]
    pub recheck: Suspects,
    /// What makes somebody registered.
    #[serde(skip_serializing_if = "is_default")]
    pub registration: NumberRule,
    /// What this practice does not have or may not do.
    #[serde(skip_serializing_if = "Closed::is_empty")]
    pub closed: Closed,
    /// How sheets are printed.
    #[serde(skip_serializing_if = "is_default")]
    pub printing: Printing,
}

fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

/// One setting and its current value.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Setting {
    /// Name under which it is set.
    pub key: &'static str,
    /// What it decides, one sentence.
    pub meaning: &'static str,
    /// The value in force.
    pub value: String,
    /// Unit of a number.
    pub unit: &'static str,
    /// The value where the practice has set none.
    pub default: String,
    /// Source of the default.
    pub source: &'static str,
    /// Whether the practice has set its own.
    pub is_own: bool,
    /// The words it can be, where it is no number and no free text.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub words: Vec<&'static str>,
}

const NAME: &str = "name";
const STANDARD: &str = "standard";
const PRISM_POWER: &str = "prism-power";
const REGISTRATION: &str = "registration-number";
const ON: &str = "on";
const OFF: &str = "off";
const PAPER: &str = "paper";
const PRINT_COMMAND: &str = "print-command";
const VIEWER: &str = "viewer";
/// The word that takes a practice's own value back.
const DEFAULT: &str = "default";
/// The longest name, characters.
const LONGEST_NAME: usize = 80;

const fn prism_word(power: PrismPower) -> &'static str {
    match power {
        PrismPower::Weaker => "weaker",
        PrismPower::Stronger => "stronger",
    }
}

/// Returns a setting that is a word of a list, or free text where the list is empty.
fn words(
    key: &'static str,
    meaning: &'static str,
    value: &str,
    default: &str,
    source: &'static str,
    words: Vec<&'static str>,
) -> Setting {
    Setting {
        key,
        meaning,
        value: value.to_owned(),
        unit: "",
        default: default.to_owned(),
        source,
        is_own: value != default,
        words,
    }
}

/// Returns every setting in force: name, standard, its options, what is switched off, each threshold.
pub fn settings(practice: &Practice) -> Vec<Setting> {
    let start = Practice::default();
    let mut all = vec![
        words(
            NAME,
            "Name of the practice on screens and sheets.",
            &practice.name,
            "",
            "",
            vec![],
        ),
        words(
            STANDARD,
            "The standard finished spectacles are verified against.",
            practice.standard.name(),
            start.standard.name(),
            "the practice's own country decides",
            Standard::ALL.iter().map(|s| s.name()).collect(),
        ),
        words(
            PRISM_POWER,
            "Which lens of a pair decides the prism limit.",
            prism_word(practice.options.prism_power),
            prism_word(start.options.prism_power),
            "the weaker gives the smaller limit",
            vec!["weaker", "stronger"],
        ),
        words(
            REGISTRATION,
            "Whether somebody counts as registered only with a registration number.",
            practice.registration.word(),
            start.registration.word(),
            "the practice's own country decides",
            NumberRule::ALL.iter().map(|r| r.word()).collect(),
        ),
        words(
            PAPER,
            "Size of the paper that sheets are written for.",
            practice.printing.paper.word(),
            start.printing.paper.word(),
            "",
            Paper::ALL.iter().map(|p| p.word()).collect(),
        ),
        words(
            PRINT_COMMAND,
            "Program that prints a sheet, such as lp; {} stands for the file.",
            &practice.printing.command,
            "",
            "",
            vec![],
        ),
        words(
            VIEWER,
            "Program that shows a sheet; {} stands for the file.",
            &practice.printing.viewer,
            "",
            "",
            vec![],
        ),
    ];
    all.extend(Way::ALL.map(|way| {
        let value = if practice.allows(way) { ON } else { OFF };
        words(
            way.key(),
            way.meaning().trim_start(),
            value,
            ON,
            way.source(),
            vec![ON, OFF],
        )
    }));
    all.extend(Threshold::ALL.iter().map(|t| Setting {
        key: t.key(),
        meaning: t.meaning().trim_start(),
        value: practice.thresholds.get(*t).to_string(),
        unit: t.unit(),
        default: t.default_value().to_string(),
        source: t.source(),
        is_own: practice.thresholds.is_own(*t),
        words: Vec::new(),
    }));
    all.extend(Suspect::ALL.iter().map(|s| Setting {
        key: s.setting(),
        meaning: s.meaning().trim_start(),
        value: practice.recheck.get(*s).to_string(),
        unit: s.unit(),
        default: s.default_value().to_string(),
        source: s.source(),
        is_own: practice.recheck.is_own(*s),
        words: Vec::new(),
    }));
    all
}

fn own_command(text: &str) -> Result<String, String> {
    printing::checked(if text == DEFAULT { "" } else { text })
}

fn no_setting(key: &str) -> String {
    format!("There is no setting {key:?}: rimbook practice lists them.")
}

fn number_within(text: &str, least: f64, most: f64) -> Option<f64> {
    text.parse()
        .ok()
        .filter(|v: &f64| (least..=most).contains(v))
}

fn asks(key: &str, least: f64, most: f64, unit: &str) -> String {
    format!("{key}: a number from {least} to {most} {unit}, or default.")
}

impl Practice {
    /// Sets one setting from what a person wrote; `default` takes the practice's own value back.
    ///
    /// # Errors
    /// One sentence: what can be written instead.
    pub fn set(&mut self, key: &str, text: &str) -> Result<(), String> {
        let text = text.trim();
        match key {
            NAME => {
                if text.chars().count() > LONGEST_NAME || text.chars().any(char::is_control) {
                    return Err(format!("A name has up to {LONGEST_NAME} characters."));
                }
                text.clone_into(&mut self.name);
            }
            STANDARD => {
                self.standard = Standard::ALL
                    .into_iter()
                    .find(|s| s.name() == text)
                    .or((text == DEFAULT).then(Standard::default))
                    .ok_or_else(|| {
                        format!("One of: {}.", Standard::ALL.map(Standard::name).join(", "))
                    })?;
            }
            PRISM_POWER => {
                self.options.prism_power = match text {
                    "weaker" => PrismPower::Weaker,
                    "stronger" => PrismPower::Stronger,
                    DEFAULT => PrismPower::default(),
                    _ => return Err("One of: weaker, stronger.".to_owned()),
                };
            }
            PAPER => {
                self.printing.paper = Paper::ALL
                    .into_iter()
                    .find(|p| p.word() == text)
                    .or((text == DEFAULT).then(Paper::default))
                    .ok_or_else(|| {
                        format!("One of: {}.", Paper::ALL.map(Paper::word).join(", "))
                    })?;
            }
            REGISTRATION => {
                self.registration = NumberRule::ALL
                    .into_iter()
                    .find(|r| r.word() == text)
                    .or((text == DEFAULT).then(NumberRule::default))
                    .ok_or_else(|| {
                        format!(
                            "One of: {}.",
                            NumberRule::ALL.map(NumberRule::word).join(", ")
                        )
                    })?;
            }
            PRINT_COMMAND => self.printing.command = own_command(text)?,
            VIEWER => self.printing.viewer = own_command(text)?,
            _ if key.starts_with("recheck-") => self.set_suspect(key, text)?,
            _ if Way::ALL.iter().any(|way| way.key() == key) => self.set_way(key, text)?,
            _ => {
                let threshold = Threshold::ALL.iter().copied().find(|t| t.key() == key);
                let threshold = threshold.ok_or_else(|| no_setting(key))?;
                self.set_threshold(threshold, text)?;
            }
        }
        Ok(())
    }

    /// Whether something that can be switched off is on.
    pub fn allows(&self, way: Way) -> bool {
        !self.closed.has(way)
    }

    fn set_way(&mut self, key: &str, text: &str) -> Result<(), String> {
        let way = Way::ALL.into_iter().find(|way| way.key() == key);
        let way = way.ok_or_else(|| no_setting(key))?;
        let is_open = match text {
            ON | DEFAULT => true,
            OFF => false,
            _ => return Err(format!("One of: {ON}, {OFF}.")),
        };
        self.closed.set(way, is_open);
        Ok(())
    }

    fn set_suspect(&mut self, key: &str, text: &str) -> Result<(), String> {
        let suspect = Suspect::ALL.iter().copied().find(|s| s.setting() == key);
        let suspect = suspect.ok_or_else(|| no_setting(key))?;
        if text == DEFAULT {
            self.recheck.clear(suspect);
        } else {
            // At zero every value would be suspected, and none would stand out.
            let value = number_within(text, 0.01, 1000.0)
                .ok_or_else(|| asks(key, 0.01, 1000.0, suspect.unit()))?;
            self.recheck.set(suspect, value);
        }
        Ok(())
    }

    fn set_threshold(&mut self, threshold: Threshold, text: &str) -> Result<(), String> {
        let before = self.thresholds.clone();
        if text == DEFAULT {
            self.thresholds.clear(threshold);
        } else {
            // Wide bounds that only a slip of the hand crosses: the practice decides within them.
            let (least, most) = match threshold.unit() {
                "degrees" => (-30.0, 90.0),
                "%" => (0.0, 100.0),
                _ => (0.0, 1000.0),
            };
            let value = number_within(text, least, most)
                .ok_or_else(|| asks(threshold.key(), least, most, threshold.unit()))?;
            self.thresholds.set(threshold, value);
        }
        // A band whose ends have crossed would question every value.
        for low in Threshold::ALL {
            let high = low
                .key()
                .strip_suffix("-low")
                .map(|stem| format!("{stem}-high"));
            let high = Threshold::ALL
                .iter()
                .find(|t| Some(t.key()) == high.as_deref());
            if let Some(high) = high {
                let (least, most) = (self.thresholds.get(*low), self.thresholds.get(*high));
                if least > most {
                    self.thresholds = before;
                    return Err(format!(
                        "{} would be {least} and {} {most}: the least is above the most.",
                        low.key(),
                        high.key()
                    ));
                }
            }
        }
        Ok(())
    }
}
