//! How the parts of a job are declared: one row a key gives the struct's field, the key of the job
//! file with its documentation, and everything that the program has to know of the value.

use super::key_type::{FieldValue, Shape};
use super::kind::FieldKind;

/// The least and the most a number can be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limits {
    /// Beyond these a slip of the hand is likelier than a wearer, a frame or a lens. What is merely
    /// unusual is the gate's to question.
    Own(f64, f64),
    /// The same, or 0 where there is none of it.
    ZeroOr(f64, f64),
    /// Those of its kind.
    OfKind,
}

/// Where a value is seen after it was typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shown {
    /// It has a place of its own on the card, a sheet or in a check.
    Placed,
    /// It is listed by its label: on the card, on the sheets for laboratory and wearer, read aloud.
    Listed,
    /// Only the whole record lists it, under "Also recorded"; no card, sheet or check has a place for it.
    AlsoRecorded,
}

/// What a new job takes over of a value of an earlier one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Carry {
    /// It is carried as the rest of its section is.
    Kept,
    /// It is what the wearer answered at one time: carried, with that day.
    Answer,
    /// It belongs to the frame it was taken in: carried only while the frame stays the same.
    OfTheFrame,
    /// How the centration distances were taken: carried unless it was through another frame.
    HowCentred,
    /// It is to be looked at again: shown, not carried.
    LookAgain,
    /// Whose the frame is: carried only into a remake.
    Owner,
    /// It says nothing of another job.
    Never,
}

/// Which published or usual figure says how far two readings of a value may differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Agreement {
    /// That of centration distances.
    Centration,
    /// That of heights.
    Height,
    /// That of the pantoscopic angle.
    Tilt,
    /// None is known.
    Unknown,
}

/// The second reading of a value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Again {
    /// There is none.
    Not,
    /// A check compares it with the first: what it is called, and how far the two may differ.
    Compared(&'static str, Agreement),
    /// It is only kept: what it is called, and how far the two may differ.
    Kept(&'static str, Agreement),
    /// Its key has a row of its own: how far the two may differ.
    InRowOfItsOwn(Agreement),
}

/// What of an order a value belongs to where a pair is made again: another value makes it another
/// order in that.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Remake {
    /// The powers that are ordered; where none are, those prescribed count in their place.
    Powers,
    /// Where the lenses are centred across.
    Centration,
    /// Where they are centred up and down.
    Height,
    /// How they lie before the eyes.
    Position,
    /// What kind of lens it is.
    Lens,
    /// The frame and its pads, which also decide how the lenses lie.
    Frame,
    /// How the sides are set.
    Sides,
    /// Another value makes no other order.
    Not,
}

/// What the program has to know of a value besides how it is typed; each section has its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rules {
    /// Of the job itself and of its order.
    Plain,
    /// Of wearer and prescription.
    Carried(Carry),
    /// Of frame and lenses, and of what the prescription says of the lens.
    Ordered {
        /// What a new job takes over.
        carry: Carry,
        /// What of an order it belongs to where a pair is made again.
        remake: Remake,
    },
    /// Of the fitting.
    Fitting {
        /// What a new job takes over.
        carry: Carry,
        /// Whether it is read a second time.
        again: Again,
        /// Whether a repair may change it.
        repair: bool,
        /// What of an order it belongs to where a pair is made again.
        remake: Remake,
    },
    /// Of the pads.
    Pads {
        /// Whether a repair may change it.
        repair: bool,
        /// What of an order they belong to where a pair is made again.
        remake: Remake,
    },
    /// Of the readings.
    Reading {
        /// Whether it is read again where one reading cannot decide.
        repeated: bool,
    },
    /// Of the handover.
    Handover {
        /// Whether it moves the lenses before the eyes, so that a height read earlier no longer
        /// holds.
        moves_lenses: bool,
        /// Whether a repair may change it.
        repair: bool,
    },
}

/// Everything of a value that a person may type.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FieldSpec {
    /// What it is called beside its value.
    pub label: &'static str,
    /// One line: what it is and what to type.
    pub help: &'static str,
    /// How it is typed.
    pub kind: FieldKind,
    /// The least and the most it can be.
    pub limits: Limits,
    /// Where it is seen.
    pub shown: Shown,
    /// What else holds of it.
    pub rules: Rules,
}

/// A key of the job file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KeyRow {
    /// The key.
    pub key: &'static str,
    /// What it means.
    pub doc: &'static str,
    /// What it can hold.
    pub shape: Shape,
    /// What the program knows of it, where a person may type it.
    pub about: Option<&'static FieldSpec>,
    /// Whether it names who is answerable, where it is no field that a person may type.
    pub is_staff: bool,
}

/// A part of a job whose values are read by their keys.
pub(crate) trait Record {
    /// Returns the value of a key.
    fn value_of(&self, key: &str) -> Option<FieldValue<'_>>;
}

/// Declares a part of a job. A row is `key: type`, and for a value that a person may type
/// `= { label: …, help: …, kind: …, limits: …, shown: …, rules: … }`, nothing of which can be left
/// out. `= staff` marks the name of somebody answerable that is no field to type into, as
/// `kind: FieldKind::Staff` does for a field. `key as "word"` is written as that word in the file.
macro_rules! record {
    (
        $(#[$meta:meta])*
        pub struct $name:ident {
            $(
                #[doc = $doc:literal] $(#[serde $serde:tt])?
                $key:ident $(as $alias:literal)? : $type:ty $(= $about:tt)?
            ),+ $(,)?
        }
    ) => {
        $(#[$meta])*
        #[derive(Debug, Clone, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
        #[serde(deny_unknown_fields, default)]
        pub struct $name {
            $(
                #[doc = $doc]
                $(#[serde $serde])?
                $(#[serde(rename = $alias)])?
                pub $key: $type
            ),+
        }

        impl $name {
            /// The keys, in the order of the file.
            pub const KEYS: &'static [$crate::job::fields::KeyRow] = &[$(
                $crate::job::fields::KeyRow {
                    key: $crate::job::fields::record!(@word $key $($alias)?),
                    doc: $doc,
                    shape: <$type as $crate::job::fields::KeyType>::SHAPE,
                    about: $crate::job::fields::record!(@about $($about)?),
                    is_staff: $crate::job::fields::record!(@staff $($about)?),
                }
            ),+];
        }

        impl $crate::job::fields::KeyType for $name {
            const SHAPE: $crate::job::fields::Shape = $crate::job::fields::Shape::Part(stringify!($name));

            fn value(&self) -> Option<$crate::job::fields::FieldValue<'_>> {
                None
            }
        }

        impl $crate::job::fields::Record for $name {
            fn value_of(&self, key: &str) -> Option<$crate::job::fields::FieldValue<'_>> {
                match key {
                    $($crate::job::fields::record!(@word $key $($alias)?) => {
                        $crate::job::fields::KeyType::value(&self.$key)
                    })+
                    _ => None,
                }
            }
        }
    };
    (@word $key:ident) => { stringify!($key) };
    (@word $key:ident $alias:literal) => { $alias };
    (@staff staff) => { true };
    (@staff $($about:tt)?) => { false };
    (@about) => { None };
    (@about staff) => { None };
    (@about { $($about:tt)* }) => { Some(&$crate::job::fields::FieldSpec { $($about)* }) };
}
pub(crate) use record;
