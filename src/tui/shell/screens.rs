//! Which screens there are: one row each.

use crate::tui::screen_name::Screen;
use crate::tui::screens::behaviour::Behaviour;
use crate::tui::screens::draw::Draws;
use crate::tui::screens::{
    choices, collections, figures, form, gate, lookup, parcel, pictures, read_aloud, visit,
    workbench, worklist,
};

macro_rules! screens {
    ($($name:ident $get:ident $state:ty;)+) => {
        /// A screen and what it remembers.
        #[derive(Debug)]
        #[allow(clippy::large_enum_variant, reason = "there is one of each screen, no more")]
        pub enum ScreenState {
            $(
                #[doc = concat!("The screen `", stringify!($get), "`.")]
                $name($state),
            )+
        }

        impl ScreenState {
            /// A screen that remembers nothing yet.
            fn new(screen: Screen) -> Option<Self> {
                match screen {
                    $(Screen::$name => Some(Self::$name(<$state>::default())),)+
                    _ => None,
                }
            }

            /// Which screen it is.
            pub const fn screen(&self) -> Screen {
                match self {
                    $(Self::$name(_) => Screen::$name,)+
                }
            }

            /// What it answers for.
            pub fn behaviour(&self) -> &dyn Behaviour {
                match self {
                    $(Self::$name(state) => state,)+
                }
            }

            /// What it answers for, to be changed.
            pub(super) fn behaviour_mut(&mut self) -> &mut dyn Behaviour {
                match self {
                    $(Self::$name(state) => state,)+
                }
            }

            /// What it draws.
            pub fn drawing(&self) -> &dyn Draws {
                match self {
                    $(Self::$name(state) => state,)+
                }
            }
        }

        impl States {
            $(
                #[doc = concat!("What the screen `", stringify!($get), "` remembers.")]
                pub fn $get(&self) -> Option<&$state> {
                    self.0.iter().find_map(|s| match s {
                        ScreenState::$name(state) => Some(state),
                        _ => None,
                    })
                }
            )+
        }
    };
}

screens! {
    Worklist worklist worklist::State;
    Lookup lookup lookup::State;
    Gate gate gate::State;
    Job form form::State;
    Collections collections collections::State;
    Parcel parcel parcel::State;
    Pictures pictures pictures::State;
    Choices choices choices::State;
    Workbench workbench workbench::State;
    Figures figures figures::State;
    Aloud read_aloud read_aloud::State;
    Visit visit visit::State;
}

/// What the screens remember: those on the stack, and those that were left and go on where they were
/// when they are opened again.
#[derive(Debug)]
pub struct States(Vec<ScreenState>);

impl Default for States {
    /// The worklist is the first screen.
    fn default() -> Self {
        Self(vec![ScreenState::Worklist(worklist::State::default())])
    }
}

impl States {
    /// The state of a screen, where it has one.
    pub fn get(&self, screen: Screen) -> Option<&ScreenState> {
        self.0.iter().find(|s| s.screen() == screen)
    }

    /// Takes the state of a screen out, to be changed beside everything it may see.
    pub(super) fn take(&mut self, screen: Screen) -> Option<ScreenState> {
        match self.0.iter().position(|s| s.screen() == screen) {
            Some(at) => Some(self.0.swap_remove(at)),
            None => ScreenState::new(screen),
        }
    }

    /// Begins a screen that has no state yet.
    pub(crate) fn begin(&mut self, screen: Screen) {
        if self.get(screen).is_none() {
            self.0.extend(ScreenState::new(screen));
        }
    }

    /// What the collections remember, to be changed.
    pub fn collections_mut(&mut self) -> Option<&mut collections::State> {
        self.0.iter_mut().find_map(|s| match s {
            ScreenState::Collections(state) => Some(state),
            _ => None,
        })
    }

    /// What the parcel remembers, to be changed.
    pub fn parcel_mut(&mut self) -> Option<&mut parcel::State> {
        self.0.iter_mut().find_map(|s| match s {
            ScreenState::Parcel(state) => Some(state),
            _ => None,
        })
    }

    /// Forgets the state of a screen.
    pub(crate) fn forget(&mut self, screen: Screen) {
        self.0.retain(|s| s.screen() != screen);
    }

    /// Keeps the state of a screen, in place of any that it has.
    pub(crate) fn put(&mut self, state: ScreenState) {
        self.0.retain(|s| s.screen() != state.screen());
        self.0.push(state);
        // In one order, whichever was taken out last.
        self.0.sort_by_key(|s| s.screen() as u8);
    }
}
