//! The manual and the shell completions, made from the definitions of the command line, so that both
//! have exactly its options.

use std::io;

use clap::{Command, CommandFactory};
use clap_complete::Shell;
use clap_mangen::Man;

use super::args::Arguments;
use super::output::{Outcome, Output, fail};
use crate::book::desk::{DeskError, ErrorKind};

/// A page with the name of its file.
pub type Page = (String, Vec<u8>);

/// The commands without the version, which differs from build to build.
fn commands() -> Command {
    let mut command = Arguments::command()
        .long_version(None::<&'static str>)
        .disable_help_subcommand(true);
    command.build();
    command
}

/// Returns the pages of the manual: the program's, then one for each of its commands.
///
/// # Errors
/// The errors of writing to memory; none is known.
pub fn manual() -> io::Result<Vec<Page>> {
    let mut pages = Vec::new();
    collect(&commands(), &mut pages)?;
    Ok(pages)
}

fn collect(command: &Command, pages: &mut Vec<Page>) -> io::Result<()> {
    let man = Man::new(command.clone())
        .manual("rimbook manual")
        .source(format!("rimbook {}", env!("CARGO_PKG_VERSION")));
    let mut page = Vec::new();
    man.render(&mut page)?;
    pages.push((man.get_filename(), page));
    command
        .get_subcommands()
        .filter(|c| !c.is_hide_set())
        .try_for_each(|c| collect(c, pages))
}

/// Returns the completions of every shell, each under the name that its shell looks for.
pub fn completions() -> Vec<Page> {
    [
        (Shell::Bash, "rimbook.bash"),
        (Shell::Elvish, "rimbook.elv"),
        (Shell::Fish, "rimbook.fish"),
        (Shell::PowerShell, "_rimbook.ps1"),
        (Shell::Zsh, "_rimbook"),
    ]
    .map(|(shell, name)| (name.to_owned(), completion(shell)))
    .to_vec()
}

fn completion(shell: Shell) -> Vec<u8> {
    let mut page = Vec::new();
    clap_complete::generate(shell, &mut commands(), "rimbook", &mut page);
    page
}

/// Writes a page of the manual.
pub(super) fn man(out: &mut Output, command: &[String]) -> Result<Outcome, DeskError> {
    let mut name = "rimbook".to_owned();
    for word in command {
        name.push('-');
        name.push_str(word);
    }
    name.push_str(".1");
    let pages = manual().map_err(|e| fail(ErrorKind::File, e.to_string(), &[]))?;
    let Some((_, page)) = pages.into_iter().find(|(file, _)| *file == name) else {
        return Err(fail(
            ErrorKind::Usage,
            format!("there is no command {:?}", command.join(" ")),
            &["rimbook --help lists the commands"],
        ));
    };
    out.page(&String::from_utf8_lossy(&page));
    Ok(Outcome::Done)
}

/// Writes the completions of a shell.
pub(super) fn complete(out: &mut Output, shell: Shell) -> Outcome {
    out.page(&String::from_utf8_lossy(&completion(shell)));
    Outcome::Done
}
