//! Everything a person can do on the screens: one table.
//!
//! Keys, the line of hints, the help of a screen, the palette and the printed key table all come
//! from [`ACTIONS`], so none of them can promise a key that does something else.

/// Where an action applies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Scope {
    /// Every screen.
    Everywhere,
    /// The worklist.
    Worklist,
    /// The form of a job.
    Job,
    /// An entry being typed in the form.
    Entry,
    /// The gate of a job.
    Gate,
    /// The look-up.
    Lookup,
    /// The collections of the day.
    Collections,
    /// What came from the laboratory.
    Parcel,
    /// The pictures of a job.
    Pictures,
    /// Materials and base curves side by side.
    Choices,
    /// Any calculation without a job.
    Workbench,
    /// Figures of the practice's work.
    Figures,
    /// A job as it is read out.
    Aloud,
    /// The visit about a pair that came back.
    Visit,
}

impl Scope {
    /// Every scope, in the order of the printed table.
    pub const ALL: &'static [Self] = &[
        Self::Everywhere,
        Self::Worklist,
        Self::Job,
        Self::Entry,
        Self::Gate,
        Self::Lookup,
        Self::Collections,
        Self::Parcel,
        Self::Pictures,
        Self::Choices,
        Self::Workbench,
        Self::Figures,
        Self::Aloud,
        Self::Visit,
    ];

    /// What a person calls it.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Everywhere => "everywhere",
            Self::Worklist => "worklist",
            Self::Job => "job",
            Self::Entry => "while typing an entry",
            Self::Gate => "gate",
            Self::Lookup => "look-up",
            Self::Collections => "collections",
            Self::Parcel => "parcel",
            Self::Pictures => "pictures",
            Self::Choices => "choices",
            Self::Workbench => "workbench",
            Self::Figures => "figures",
            Self::Aloud => "read aloud",
            Self::Visit => "visit",
        }
    }

    /// Whether plain characters are typed there, so that only other keys can be commands.
    pub const fn takes_text(self) -> bool {
        matches!(
            self,
            Self::Job | Self::Entry | Self::Lookup | Self::Workbench | Self::Visit
        )
    }
}

macro_rules! actions {
    ($($(#[$doc:meta])* $name:ident $id:literal $title:literal [$($scope:ident),+] [$($key:literal),*] $help:literal;)+) => {
        /// One thing a person can do.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum Action { $($(#[$doc])* #[doc = $help] $name),+ }

        /// Every action, with its name, where it applies, its keys and what it does.
        pub const ACTIONS: &[Entry] = &[$(Entry {
            action: Action::$name, id: $id, title: $title,
            scopes: &[$(Scope::$scope),+], keys: &[$($key),*], help: $help,
        }),+];
    };
}

/// One row of the table.
#[derive(Debug)]
pub struct Entry {
    /// The action.
    pub action: Action,
    /// Its name in key files and in the palette.
    pub id: &'static str,
    /// The word in the line of hints.
    pub title: &'static str,
    /// Where it applies.
    pub scopes: &'static [Scope],
    /// Its keys unless a key file says otherwise.
    pub keys: &'static [&'static str],
    /// What it does, one sentence.
    pub help: &'static str,
}

actions! {
    Open "open" "open" [Worklist, Lookup] ["enter"] "Opens what is selected.";
    OpenJob "open-job" "job" [Collections, Parcel] ["o", "alt-o"] "Opens the form of the job.";
    GoToField "go-to-field" "field" [Gate] ["enter"] "Goes to the field the finding is about.";
    Gate "gate" "gate" [Job, Entry, Visit, Lookup] ["ctrl-g", "f5"] "Shows what holds the next move of the job; what is being typed is kept first.";
    OpenGate "open-gate" "gate" [Worklist, Collections, Parcel] ["g", "ctrl-g"] "Shows what holds the next move of the selected job.";
    Accept "accept" "accept" [Gate] ["a"] "Accepts the finding with a written reason; down takes one of the check that was given before.";
    Remedy "remedy" "remedy" [Gate] ["d"] "Records the first remedy of the finding, which its text names; offers them where there are several.";
    Confirm "confirm" "confirm" [Gate] ["c"] "Signs the name that the finding is about: its owner types the PIN, unless signed in.";
    Move "move" "move on" [Gate, Parcel] ["m"] "Moves the job through the gate.";
    AskPrescriber "ask-prescriber" "ask prescriber" [Gate] ["p"] "Puts a question to the prescriber; the job is held until it is answered.";
    AskLaboratory "ask-laboratory" "ask laboratory" [Gate] ["l"] "Puts a question to the laboratory; the job is held until it is answered.";
    Answer "answer" "answer" [Gate] ["r"] "Records the answer to a question.";
    SendBack "send-back" "send back" [Gate, Parcel] ["s"] "Sends a delivered pair back to the laboratory, with a reason; what fails stands in it already.";
    Cancel "cancel" "cancel job" [Gate] ["x"] "Gives the job up, with a reason.";
    Recheck "recheck" "recheck" [Gate] ["R"] "Begins a new job that looks at a collected pair again.";
    EditField "edit" "edit" [Job] ["enter"] "Edits the entry under the cursor; typing does too.";
    NextField "next-field" "next" [Job, Workbench] ["tab"] "Goes to the next entry.";
    PreviousField "previous-field" "previous" [Job, Workbench] ["shift-tab"] "Goes to the entry before.";
    NextMarked "next-marked" "marked" [Job, Entry] ["f4", "alt-m"] "Keeps what is being typed and goes to the next entry that the gate asks for, marked ! or ?.";
    TakeOffered "take-offered" "take offered" [Job, Entry] ["ctrl-o", "alt-o"] "Puts what is offered beside the entry into it, to be kept like what is typed.";
    NextSection "next-section" "section" [Job] ["]", "page-down"] "Goes to the next section.";
    PreviousSection "previous-section" "section back" [Job] ["[", "page-up"] "Goes to the section before.";
    Section1 "section-wearer" "wearer" [Job] ["alt-1"] "Goes to the wearer.";
    Section2 "section-prescription" "prescription" [Job] ["alt-2"] "Goes to the prescription.";
    Section3 "section-fitting" "fitting" [Job] ["alt-3"] "Goes to the fitting measurements.";
    Section4 "section-frame" "frame" [Job] ["alt-4"] "Goes to the frame.";
    Section5 "section-lenses" "lenses" [Job] ["alt-5"] "Goes to the lenses.";
    Section6 "section-order" "order" [Job] ["alt-6"] "Goes to the order.";
    Section7 "section-verification" "verification" [Job] ["alt-7"] "Goes to the verification.";
    Section8 "section-handover" "handover" [Job] ["alt-8"] "Goes to the handover.";
    Section9 "section-history" "history" [Job] ["alt-9"] "Goes to the history.";
    StepUp "step-up" "step up" [Job, Entry, Workbench] ["ctrl-up", "alt-up"] "Raises the value by one step.";
    StepDown "step-down" "step down" [Job, Entry, Workbench] ["ctrl-down", "alt-down"] "Lowers the value by one step.";
    CopyOther "copy-other-eye" "copy other eye" [Job] ["="] "Copies the value of the other eye.";
    ClearField "clear-field" "clear" [Job, Workbench] ["delete", "backspace"] "Removes the value.";
    Undo "undo" "undo" [Job, Gate, Visit] ["ctrl-u"] "Takes the last entry back.";
    Commit "commit" "keep" [Entry] ["enter"] "Keeps what was typed and goes on.";
    CommitNext "commit-next" "keep, next" [Entry] ["tab", "down"] "Keeps what was typed and goes to the next entry.";
    CommitPrevious "commit-previous" "keep, back" [Entry] ["shift-tab", "up"] "Keeps what was typed and goes to the entry before.";
    ClearText "clear-text" "clear" [Entry, Lookup, Workbench] ["ctrl-u"] "Removes what was typed.";
    Restore "restore" "restore" [Entry] ["esc"] "Leaves the entry as it was before.";
    Yes "yes" "yes" [Collections, Parcel] ["y"] "Answers the check with yes; a value is then as it was measured, where that is enough.";
    No "no" "no" [Collections, Parcel] ["n"] "Answers the check with no.";
    Adjusted "adjusted" "adjusted" [Collections] ["a", "alt-a"] "Says that the frame was adjusted at this check of the fit: heights read before are asked for again.";
    Value "value" "value" [Collections] ["enter", "v"] "Asks for the value of the check; on a check that takes words, any letter begins them.";
    NextJob "next-job" "next job" [Collections] ["tab", "right"] "Goes to the next collection.";
    PreviousJob "previous-job" "job before" [Collections] ["shift-tab", "left"] "Goes to the collection before.";
    NewJob "new-job" "new job" [Worklist] ["n", "ctrl-n"] "Begins a job: asks for the wearer's name.";
    NewJobNamed "new-job-named" "new job" [Lookup] ["ctrl-n"] "Begins a job of a wearer who was not found: the name that is typed is put in.";
    Lookup "look-up" "look up" [Everywhere] ["/"] "Finds a job by name, number, phone, date of birth or frame; on the worklist a digit does too.";
    Collections "collections" "collections" [Worklist] ["c"] "Goes through the handovers of the day, and that of the selected job.";
    Parcel "parcel" "parcel" [Worklist] ["p"] "Goes through what came from the laboratory: read, compare, pass or send back.";
    TakeUp "take-up" "take" [Parcel] ["enter"] "Takes up the job whose number is typed or that is selected; then types the value of the step.";
    Verdict "verdict" "verdict" [Parcel] ["v"] "Sets the readings against the order, once both lenses are read; again goes back to the steps.";
    Told "told" "told" [Worklist, Collections] ["t", "alt-t"] "Records that the wearer was told, or was not reached.";
    Waiting "waiting" "waiting" [Worklist, Collections] ["u", "alt-u"] "Lists the pairs that are ready and not collected: since when, and who was told.";
    NamesToConfirm "names-to-confirm" "confirm names" [Worklist] ["s"] "Lists the names of yours that others typed; signs one or all of them.";
    Pictures "pictures" "pictures" [Job, Gate] ["f6", "alt-p"] "Shows the pictures of the job.";
    NextPicture "next-picture" "next picture" [Pictures] ["tab", "right", "f6"] "Goes to the next picture.";
    PreviousPicture "previous-picture" "picture before" [Pictures] ["shift-tab", "left"] "Goes to the picture before.";
    Choices "choices" "choose" [Job, Gate] ["f7", "alt-c"] "Lines materials and base curves up for the job.";
    TakeChoice "take-choice" "take" [Choices] ["enter"] "Puts the selected material and base curve into the lenses of the job; asks first.";
    SortNext "sort-next" "sort by next" [Choices] ["s", "right"] "Sorts by the next column.";
    SortPrevious "sort-previous" "sort by column before" [Choices] ["S", "left"] "Sorts by the column before.";
    SortReverse "sort-reverse" "reverse" [Choices] ["r"] "Puts the largest first, or the smallest again.";
    Workbench "workbench" "workbench" [Everywhere] ["f8", "alt-b"] "Opens the workbench: any calculation without a job.";
    Take "take" "take" [Workbench] ["enter"] "Goes to the fields; there it keeps the value and goes on.";
    Onward "onward" "choice" [Workbench] ["right"] "Goes to the fields; there to the next choice of a field.";
    Backward "backward" "choice before" [Workbench] ["left"] "Goes to the choice before; from a number back to the list.";
    NextCalculation "next-calculation" "calculation" [Workbench] ["page-down"] "Goes to the next calculation.";
    PreviousCalculation "previous-calculation" "calculation before" [Workbench] ["page-up"] "Goes to the calculation before.";
    Carry "carry" "carry" [Workbench] ["f9", "ctrl-y"] "Offers to carry results into the job the workbench was opened from.";
    NewFrom "new-from" "new from" [Job, Lookup] ["alt-n"] "Begins a second pair, a re-glaze, a replacement or a remake from this job, with what may be carried over.";
    Repair "repair" "repair" [Job, Lookup] ["f2", "alt-a"] "Keeps a repair or adjustment of a collected pair, and the values as they stand now.";
    ReadAloud "read-aloud" "read aloud" [Job, Lookup] ["alt-r"] "Shows the job line by line in words, for the telephone and for screen readers.";
    CopyCard "copy-card" "copy" [Aloud] ["alt-y"] "Copies the lines to the terminal's clipboard; nothing else ever does.";
    Print "print" "print" [Job, Gate] ["f3"] "Prints a sheet of the job: for the tray, the laboratory, the check of centration, the wearer.";
    PrintSelected "print-selected" "print" [Worklist] ["P"] "Prints a sheet of the selected job.";
    Retention "retention" "due for review" [Worklist] ["f9"] "Lists the wearers whose records are due for review; erases nothing.";
    Figures "figures" "figures" [Worklist] ["f"] "Shows figures of the practice's work.";
    NextPage "next-page" "page" [Figures, Visit] ["tab", "page-down"] "Goes to the next page.";
    PreviousPage "previous-page" "page before" [Figures, Visit] ["shift-tab", "page-up"] "Goes to the page before.";
    LaterPeriod "later-period" "later" [Figures] ["right"] "Goes to the period after.";
    EarlierPeriod "earlier-period" "earlier" [Figures] ["left"] "Goes to the period before.";
    ByMonth "by-month" "month" [Figures] ["m"] "Shows a month.";
    ByQuarter "by-quarter" "quarter" [Figures] ["q"] "Shows a quarter.";
    ByYear "by-year" "year" [Figures] ["y"] "Shows a year.";
    Down "down" "down" [Worklist, Job, Gate, Lookup, Collections, Pictures, Choices, Workbench, Figures, Aloud, Visit, Parcel] ["down"] "Goes down.";
    Up "up" "up" [Worklist, Job, Gate, Lookup, Collections, Pictures, Choices, Workbench, Figures, Aloud, Visit, Parcel] ["up"] "Goes up.";
    Visit "visit" "visit" [Job, Gate] ["f10", "alt-v"] "Shows the visit about a pair that came back; of a collected pair, offers to begin its recheck.";
    Tick "tick" "tick or edit" [Visit] ["enter"] "Ticks the step (so does space), or takes the entry of the outcome; on the causes a letter ticks a complaint.";
    Remake "remake" "make again" [Visit] ["f9", "ctrl-r"] "Begins the remake that was decided on, as a new job; opens it when it is begun.";
    DownToo "down-letter" "down" [Worklist, Gate] ["j"] "Goes down.";
    UpToo "up-letter" "up" [Worklist, Gate] ["k"] "Goes up.";
    Left "left" "left" [Job] ["left"] "Goes to the right eye's column.";
    Right "right" "right" [Job] ["right"] "Goes to the left eye's column.";
    First "first" "first" [Worklist, Job, Gate, Collections, Choices, Workbench, Figures, Aloud, Visit, Parcel] ["home"] "Goes to the first.";
    Last "last" "last" [Worklist, Job, Gate, Collections, Choices, Workbench, Figures, Aloud, Visit, Parcel] ["end"] "Goes to the last.";
    SwitchPerson "switch-person" "who" [Worklist, Gate, Collections, Parcel] ["w", "ctrl-w"] "Says who is acting.";
    SwitchPersonToo "switch-person-anywhere" "who" [Job, Workbench, Visit] ["ctrl-w"] "Says who is acting.";
    Lock "lock" "lock" [Everywhere] ["ctrl-l"] "Locks the screen until a PIN or passphrase opens it; what was typed is kept.";
    OwnSecret "own-pin" "own PIN" [Worklist] [] "Sets your own PIN or passphrase.";
    OtherSecret "another-pin" "another's PIN" [Worklist] [] "Sets the PIN or passphrase of somebody else; for registered persons.";
    SignInSettings "sign-in" "sign in" [Worklist] [] "Turns sign-in on or off and says when an idle screen is locked.";
    PracticeSettings "practice-settings" "practice" [Worklist] [] "Sets the practice's standard and the thresholds of the checks.";
    RemakePrice "remake-price" "remake price" [Worklist, Figures] [] "Sets what a remake costs the practice; the figures estimate from it.";
    Tour "tour" "tour" [Worklist] [] "Shows you round the screens in five stops.";
    Help "help" "help" [Everywhere] ["?", "f1"] "Shows the keys of this screen.";
    Palette "palette" "all" [Everywhere] ["ctrl-p", ":"] "Finds any action of this screen by its name.";
    Back "back" "back" [Everywhere] ["esc"] "Goes back to the screen before.";
    Quit "quit" "quit" [Worklist] ["q"] "Leaves the program.";
    QuitNow "quit-now" "quit" [Everywhere] ["ctrl-c", "ctrl-q"] "Leaves the program; what was typed is kept.";
    Suspend "suspend" "suspend" [Everywhere] ["ctrl-z"] "Gives the terminal back to the shell for a while (fg returns).";
}

impl Action {
    /// Returns the action's row.
    pub fn entry(self) -> &'static Entry {
        ACTIONS
            .iter()
            .find(|e| e.action == self)
            .unwrap_or(&ACTIONS[0])
    }

    /// Returns the action of a name.
    pub fn named(id: &str) -> Option<Self> {
        ACTIONS.iter().find(|e| e.id == id).map(|e| e.action)
    }

    /// Returns by how many rows the action moves the cursor of a list, where it does.
    pub const fn rows(self) -> Option<isize> {
        Some(match self {
            Self::Down | Self::DownToo => 1,
            Self::Up | Self::UpToo => -1,
            Self::First => isize::MIN,
            Self::Last => isize::MAX,
            _ => return None,
        })
    }

    /// Returns the place in the row of sections that the action goes to.
    pub const fn section(self) -> Option<usize> {
        Some(match self {
            Self::Section1 => 0,
            Self::Section2 => 1,
            Self::Section3 => 2,
            Self::Section4 => 3,
            Self::Section5 => 4,
            Self::Section6 => 5,
            Self::Section7 => 6,
            Self::Section8 => 7,
            Self::Section9 => 8,
            _ => return None,
        })
    }
}
