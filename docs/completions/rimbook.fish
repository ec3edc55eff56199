# Print an optspec for argparse to handle cmd's options that are independent of any subcommand.
function __fish_rimbook_global_optspecs
    string join \n db= json pin-file= h/help V/version
end

function __fish_rimbook_needs_command
    # Figure out if the current invocation already has a command.
    set -l cmd (commandline -opc)
    set -e cmd[1]
    argparse -s (__fish_rimbook_global_optspecs) -- $cmd 2>/dev/null
    or return
    if set -q argv[1]
        # Also print the command, so this can be used to figure out what it is.
        echo $argv[1]
        return 1
    end
    return 0
end

function __fish_rimbook_using_subcommand
    set -l cmd (__fish_rimbook_needs_command)
    test -z "$cmd"
    and return 1
    contains -- $cmd[1] $argv
end

complete -c rimbook -n "__fish_rimbook_needs_command" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_needs_command" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_needs_command" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_needs_command" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c rimbook -n "__fish_rimbook_needs_command" -s V -l version -d 'Print version'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "demo" -d 'Build a fresh invented practice, and open it'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "import" -d 'Import job files, FHIR prescriptions, or past jobs from CSV; prints the numbers given'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "export" -d 'Write jobs as a job file, CSV or FHIR'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "calendar" -d 'Write the appointments for collections as iCalendar: when and which job, nothing of the wearer'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "list" -d 'List jobs'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "find" -d 'Find jobs by name, number, phone, date of birth or frame, or by who has a frame or lens'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "figures" -d 'Figures of the practice\'s work over a period, beside those of the period before'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "show" -d 'Show one job'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "check" -d 'Say what the gate finds, without moving'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "record" -d 'Merge JSON into one section of a job'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "advance" -d 'Move a job through the gate, or say what holds it'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "accept" -d 'Settle a warning with a reason'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "send-back" -d 'Send a delivered pair back to the laboratory'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "ask" -d 'Put a question to the prescriber or the laboratory; it holds the job until it is answered'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "answer" -d 'Record the answer to an open question'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "confirm" -d 'Sign names that somebody else typed, with the PIN; needs sign-in'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "begin" -d 'Begin a job from an earlier one of the same wearer, with what may be carried over'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "repair" -d 'Keep a repair or adjustment of a collected pair'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "contact" -d 'Record what a wearer was told, or tried to be told'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "recheck" -d 'Look at a collected pair again, as a new job linked to it'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "visit" -d 'Line a recheck up with the pair it looks at; name likely causes and the steps left'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "remake" -d 'Begin the remake that a recheck decided on, as a new job linked to it'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "cancel" -d 'Give an open job up'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "encrypt" -d 'Encrypt the book in its place; prints the recovery code, once'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "recovery-code" -d 'Make a new recovery code for an encrypted book; the one before opens nothing any more'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "calc" -d 'Answer calculations: JSON Lines in, JSON Lines out'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "rx" -d 'Read written prescriptions: one a line in, one JSON answer a line out'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "checks" -d 'List the checks of the gates'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "backup" -d 'Copy the book into a directory, checked, and let old copies go'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "restore" -d 'Put a backup in the place of the book; the replaced book is kept'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "doctor" -d 'Examine the book'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "retention" -d 'List the wearers whose records are due for review; erases nothing'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "erase" -d 'Erase a job for good, or every job of its wearer'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "access" -d 'Write everything the book holds of one wearer, for a wearer who asks'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "print" -d 'Print a sheet of a job: for the tray, the laboratory, the check of centration, the wearer'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "practice" -d 'The practice\'s standard and thresholds'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "staff" -d 'The people of the practice'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "man" -d 'Write a page of the manual; read it with: rimbook man | man -l -'
complete -c rimbook -n "__fish_rimbook_needs_command" -f -a "completions" -d 'Write the completions of a shell'
complete -c rimbook -n "__fish_rimbook_using_subcommand demo" -l into -d 'A file that does not exist yet [default: a fresh one in the temporary directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand demo" -l jobs -d 'How many jobs [default: a small, telling practice]' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand demo" -l seed -d 'The same seed gives the same book on the same day' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand demo" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand demo" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand demo" -l no-open -d 'Build the book only'
complete -c rimbook -n "__fish_rimbook_using_subcommand demo" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand demo" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand import" -l as -d 'Who imports' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand import" -l mapping -d 'The files are CSV, and this one says which column holds what; own for what export writes' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand import" -l wearer -d 'The wearer of a FHIR prescription, in place of the name in the file' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand import" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand import" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand import" -l mapping-template -d 'Print a mapping to fill in'
complete -c rimbook -n "__fish_rimbook_using_subcommand import" -l dry-run -d 'Read and name what would be refused; import nothing'
complete -c rimbook -n "__fish_rimbook_using_subcommand import" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand import" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand export" -l as -d 'The format' -r -f -a "json\t''
csv\t''
fhir\t''"
complete -c rimbook -n "__fish_rimbook_using_subcommand export" -l by -d 'Who exports, where people sign in' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand export" -l out -d 'A file that does not exist yet [default: standard output]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand export" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand export" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand export" -l all -d 'Every job of the book'
complete -c rimbook -n "__fish_rimbook_using_subcommand export" -l bom -d 'Begin CSV with the byte-order mark that some spreadsheets need for UTF-8'
complete -c rimbook -n "__fish_rimbook_using_subcommand export" -l schema -d 'Write the JSON Schema of the job file instead'
complete -c rimbook -n "__fish_rimbook_using_subcommand export" -l skip-unreadable -d 'Leave out jobs that cannot be read, and say which; the exit status is then 1'
complete -c rimbook -n "__fish_rimbook_using_subcommand export" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand export" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand calendar" -l from -d 'The first day [default: today]' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand calendar" -l days -d 'How many days' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand calendar" -l minutes -d 'How long an appointment takes' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand calendar" -l out -d 'A file that does not exist yet [default: standard output]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand calendar" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand calendar" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand calendar" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand calendar" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand list" -l stage -d 'Only this stage' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand list" -l on -d 'Only what is due, promised or to be collected on that day (2026-12-03)' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand list" -l as -d 'Who looks, where people sign in' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand list" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand list" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand list" -l held -d 'Only what a check holds'
complete -c rimbook -n "__fish_rimbook_using_subcommand list" -l late -d 'Only what is late at the laboratory'
complete -c rimbook -n "__fish_rimbook_using_subcommand list" -l uncollected -d 'Only what is ready and not collected for longer than the practice waits'
complete -c rimbook -n "__fish_rimbook_using_subcommand list" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand list" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand find" -l maker -d 'Only who has a frame or lens of this maker' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand find" -l product -d 'Only who has this frame or lens, by its name or the first words of it' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand find" -l lot -d 'Only who has a frame or lens of this lot' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand find" -l limit -d 'How many lines at most [default: 20; with maker, product or lot, all]' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand find" -l as -d 'Who looks, where people sign in' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand find" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand find" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand find" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand find" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand figures" -l from -d 'The first day (2026-11-03)' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand figures" -l to -d 'The last day, itself included' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand figures" -l month -d 'A month (2026-11) [default: this month]' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand figures" -l quarter -d 'A quarter (2026-4)' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand figures" -l year -d 'A year (2026)' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand figures" -l remake-price -d 'Say what a remake costs the practice, in whole units of its money; 0 takes it back' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand figures" -l by -d 'Who says so' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand figures" -l as -d 'text for a person, json or csv for a program' -r -f -a "text\t''
json\t''
csv\t''"
complete -c rimbook -n "__fish_rimbook_using_subcommand figures" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand figures" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand figures" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand figures" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand show" -l as -d 'Who looks, where people sign in' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand show" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand show" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand show" -l aloud -d 'Line by line in words, to be read out or heard'
complete -c rimbook -n "__fish_rimbook_using_subcommand show" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand show" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand check" -l to -d 'The gate, named by the stage it leads to [default: the next]' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand check" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand check" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand check" -l all -d 'Every open job at its next gate'
complete -c rimbook -n "__fish_rimbook_using_subcommand check" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand check" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand record" -l as -d 'Who records' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand record" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand record" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand record" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand record" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand advance" -l to -d 'The stage to move to: ordered, verified, collected' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand advance" -l as -d 'Who moves it' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand advance" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand advance" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand advance" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand advance" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand accept" -l eye -d 'Only the finding about right, left or pair [default: every open one of the check]' -r -f -a "right\t''
left\t''
pair\t''"
complete -c rimbook -n "__fish_rimbook_using_subcommand accept" -l as -d 'Who accepts' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand accept" -l reason -d 'Why' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand accept" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand accept" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand accept" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand accept" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand send-back" -l as -d 'Who sends it' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand send-back" -l reason -d 'Why' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand send-back" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand send-back" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand send-back" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand send-back" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand ask" -l of -d 'prescriber or laboratory' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand ask" -l text -d 'The question' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand ask" -l as -d 'Who asks' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand ask" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand ask" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand ask" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand ask" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand answer" -l of -d 'prescriber or laboratory; needed where both were asked' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand answer" -l text -d 'The answer' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand answer" -l as -d 'Who records it' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand answer" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand answer" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand answer" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand answer" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand confirm" -l as -d 'Who confirms' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand confirm" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand confirm" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand confirm" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand confirm" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand begin" -l for -d 'second pair, reglaze, replacement, remake or recheck' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand begin" -l as -d 'Who begins it' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand begin" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand begin" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand begin" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand begin" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand repair" -l kind -d 'pads changed, sides set, front set, screw, lens loose, part replaced, checked or other' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand repair" -l note -d 'In words' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand repair" -l set -d 'A value as it stands now, such as right.length_to_bend_mm=95; once for each value' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand repair" -l supervised-by -d 'Who supervised, registered and on the premises' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand repair" -l reason -d 'Why it is kept although a check holds it; taken from somebody registered' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand repair" -l as -d 'Who did it' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand repair" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand repair" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand repair" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand repair" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand contact" -l how -d 'telephone, voicemail, message, e-mail, letter or in person' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand contact" -l told -d 'What was said or left' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand contact" -l as -d 'Who told them' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand contact" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand contact" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand contact" -l reached -d 'The wearer was reached'
complete -c rimbook -n "__fish_rimbook_using_subcommand contact" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand contact" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand recheck" -l as -d 'Who looks' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand recheck" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand recheck" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand recheck" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand recheck" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand visit" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand visit" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand visit" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand visit" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand remake" -l as -d 'Who begins it' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand remake" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand remake" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand remake" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand remake" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand cancel" -l as -d 'Who gives it up' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand cancel" -l reason -d 'Why' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand cancel" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand cancel" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand cancel" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand cancel" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand encrypt" -l as -d 'A dispensing optician or optometrist; their passphrase will open the book' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand encrypt" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand encrypt" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand encrypt" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand encrypt" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand recovery-code" -l as -d 'A dispensing optician or optometrist' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand recovery-code" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand recovery-code" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand recovery-code" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand recovery-code" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand calc" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand calc" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand calc" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand calc" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand rx" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand rx" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand rx" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand rx" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand checks" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand checks" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand checks" -l markdown -d 'As a page in Markdown'
complete -c rimbook -n "__fish_rimbook_using_subcommand checks" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand checks" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand backup" -l as -d 'Who does it; to set, a dispensing optician or optometrist' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand backup" -l keep -d 'Keep the newest N' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand backup" -l keep-days -d 'Keep the newest of each of N days' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand backup" -l keep-weeks -d 'Keep the newest of each of N weeks' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand backup" -l keep-months -d 'Keep the newest of each of N months' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand backup" -l on-start -d 'Whether the first start of a day makes one' -r -f -a "true\t''
false\t''"
complete -c rimbook -n "__fish_rimbook_using_subcommand backup" -l on-quit -d 'Whether leaving the screens after changes makes one' -r -f -a "true\t''
false\t''"
complete -c rimbook -n "__fish_rimbook_using_subcommand backup" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand backup" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand backup" -l set -d 'Remember directory and numbers from now on; without DIR, sets the numbers alone'
complete -c rimbook -n "__fish_rimbook_using_subcommand backup" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand backup" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand restore" -l as -d 'Who does it: a dispensing optician or optometrist' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand restore" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand restore" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand restore" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand restore" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand doctor" -l as -d 'Who repairs' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand doctor" -l against -d 'Also say whether history still holds a code that was written down, or a signed head from beside a backup' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand doctor" -l salvage -d 'Write all that can be read into a new book and list the rest' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand doctor" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand doctor" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand doctor" -l repair -d 'Repair what can be repaired without a decision'
complete -c rimbook -n "__fish_rimbook_using_subcommand doctor" -l head -d 'Print the newest entry of history as a code to write down, and examine nothing'
complete -c rimbook -n "__fish_rimbook_using_subcommand doctor" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand doctor" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand retention" -l on -d 'What is due on that day (2026-12-03) [default: today]' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand retention" -l adult-years -d 'Set the rule: years after last seen' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand retention" -l child-until-age -d 'Set the rule: whoever was last seen under 18, at least until this birthday' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand retention" -l as -d 'Who sets the rule' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand retention" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand retention" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand retention" -l erased -d 'What was erased instead: when, by whom, which number, why'
complete -c rimbook -n "__fish_rimbook_using_subcommand retention" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand retention" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand erase" -l as -d 'Who erases: a dispensing optician or optometrist' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand erase" -l reason -d 'Why; it stays in history, so no name belongs in it' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand erase" -l confirm -d 'The number again, in place of typing it when asked' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand erase" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand erase" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand erase" -l wearer -d 'Every job of the same wearer: same name, same date of birth'
complete -c rimbook -n "__fish_rimbook_using_subcommand erase" -l sweep -d 'Only rewrite the file without what was erased before, when another terminal was in the way'
complete -c rimbook -n "__fish_rimbook_using_subcommand erase" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand erase" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand access" -l name -d 'The wearer\'s whole name, as the jobs have it' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand access" -l born -d 'The wearer\'s date of birth (1970-05-01)' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand access" -l out -d 'A file that does not exist yet; only its owner can read it' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand access" -l by -d 'Who gives access' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand access" -l as -d 'text for a person, json for a program' -r -f -a "text\t''
json\t''"
complete -c rimbook -n "__fish_rimbook_using_subcommand access" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand access" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand access" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand access" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand print" -l what -d 'The sheet: tray, order, chart or wearer' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand print" -l out -d 'A file that does not exist yet; the sheet is written there and not printed' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand print" -l as -d 'pdf, or text for a terminal or a screen reader' -r -f -a "pdf\t''
text\t''"
complete -c rimbook -n "__fish_rimbook_using_subcommand print" -l by -d 'Who prints, where people sign in' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand print" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand print" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand print" -l open -d 'Show it in the practice\'s viewer instead of printing it'
complete -c rimbook -n "__fish_rimbook_using_subcommand print" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand print" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand practice; and not __fish_seen_subcommand_from set" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand practice; and not __fish_seen_subcommand_from set" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand practice; and not __fish_seen_subcommand_from set" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand practice; and not __fish_seen_subcommand_from set" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand practice; and not __fish_seen_subcommand_from set" -f -a "set" -d 'Set one'
complete -c rimbook -n "__fish_rimbook_using_subcommand practice; and __fish_seen_subcommand_from set" -l as -d 'A dispensing optician or optometrist' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand practice; and __fish_seen_subcommand_from set" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand practice; and __fish_seen_subcommand_from set" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand practice; and __fish_seen_subcommand_from set" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand practice; and __fish_seen_subcommand_from set" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and not __fish_seen_subcommand_from add secret recovery-code sign-in list" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and not __fish_seen_subcommand_from add secret recovery-code sign-in list" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and not __fish_seen_subcommand_from add secret recovery-code sign-in list" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and not __fish_seen_subcommand_from add secret recovery-code sign-in list" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and not __fish_seen_subcommand_from add secret recovery-code sign-in list" -f -a "add" -d 'Add somebody, or the registration number of somebody who has none'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and not __fish_seen_subcommand_from add secret recovery-code sign-in list" -f -a "secret" -d 'Set a PIN or passphrase; it is asked for, or read from --pin-file'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and not __fish_seen_subcommand_from add secret recovery-code sign-in list" -f -a "recovery-code" -d 'Make a new recovery code of sign-in and print it once; the earlier one is worth nothing then'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and not __fish_seen_subcommand_from add secret recovery-code sign-in list" -f -a "sign-in" -d 'Ask people to sign in, or not; and when an idle screen is locked'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and not __fish_seen_subcommand_from add secret recovery-code sign-in list" -f -a "list" -d 'List everybody'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from add" -l name -r
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from add" -l role -d 'assistant, trainee, dispensing optician or optometrist' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from add" -l registration -d 'Registration number of a dispensing optician or optometrist' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from add" -l supervisor -d 'A trainee\'s supervisor, who is registered' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from add" -l as -d 'Who adds them, where the practice asks people to sign in' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from add" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from add" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from add" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from add" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from secret" -l name -d 'Whose' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from secret" -l as -d 'Who sets it, when it is another\'s; that person\'s own PIN is asked for first' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from secret" -l recovery -d 'A file with the recovery code, for the first PIN on a machine to which the book was restored' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from secret" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from secret" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from secret" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from secret" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from recovery-code" -l as -d 'A dispensing optician or optometrist' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from recovery-code" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from recovery-code" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from recovery-code" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from recovery-code" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from sign-in" -l idle -d 'Minutes without a key after which the screen is locked; 0 never' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from sign-in" -l as -d 'A dispensing optician or optometrist' -r
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from sign-in" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from sign-in" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from sign-in" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from sign-in" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from list" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from list" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from list" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand staff; and __fish_seen_subcommand_from list" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand man" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand man" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand man" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand man" -s h -l help -d 'Print help'
complete -c rimbook -n "__fish_rimbook_using_subcommand completions" -l db -d 'The book to work in [default: RIMBOOK_DB, else book.db in the user\'s data directory]' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand completions" -l pin-file -d 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking' -r -F
complete -c rimbook -n "__fish_rimbook_using_subcommand completions" -l json -d 'Answer in JSON on standard output'
complete -c rimbook -n "__fish_rimbook_using_subcommand completions" -s h -l help -d 'Print help'
