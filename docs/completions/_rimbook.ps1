
using namespace System.Management.Automation
using namespace System.Management.Automation.Language

Register-ArgumentCompleter -Native -CommandName 'rimbook' -ScriptBlock {
    param($wordToComplete, $commandAst, $cursorPosition)

    $commandElements = $commandAst.CommandElements
    $command = @(
        'rimbook'
        for ($i = 1; $i -lt $commandElements.Count; $i++) {
            $element = $commandElements[$i]
            if ($element -isnot [StringConstantExpressionAst] -or
                $element.StringConstantType -ne [StringConstantType]::BareWord -or
                $element.Value.StartsWith('-') -or
                $element.Value -eq $wordToComplete) {
                break
        }
        $element.Value
    }) -join ';'

    $completions = @(switch ($command) {
        'rimbook' {
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help (see more with ''--help'')')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help (see more with ''--help'')')
            [CompletionResult]::new('-V', '-V ', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('--version', '--version', [CompletionResultType]::ParameterName, 'Print version')
            [CompletionResult]::new('demo', 'demo', [CompletionResultType]::ParameterValue, 'Build a fresh invented practice, and open it')
            [CompletionResult]::new('import', 'import', [CompletionResultType]::ParameterValue, 'Import job files, FHIR prescriptions, or past jobs from CSV; prints the numbers given')
            [CompletionResult]::new('export', 'export', [CompletionResultType]::ParameterValue, 'Write jobs as a job file, CSV or FHIR')
            [CompletionResult]::new('calendar', 'calendar', [CompletionResultType]::ParameterValue, 'Write the appointments for collections as iCalendar: when and which job, nothing of the wearer')
            [CompletionResult]::new('list', 'list', [CompletionResultType]::ParameterValue, 'List jobs')
            [CompletionResult]::new('find', 'find', [CompletionResultType]::ParameterValue, 'Find jobs by name, number, phone, date of birth or frame, or by who has a frame or lens')
            [CompletionResult]::new('figures', 'figures', [CompletionResultType]::ParameterValue, 'Figures of the practice''s work over a period, beside those of the period before')
            [CompletionResult]::new('show', 'show', [CompletionResultType]::ParameterValue, 'Show one job')
            [CompletionResult]::new('check', 'check', [CompletionResultType]::ParameterValue, 'Say what the gate finds, without moving')
            [CompletionResult]::new('record', 'record', [CompletionResultType]::ParameterValue, 'Merge JSON into one section of a job')
            [CompletionResult]::new('advance', 'advance', [CompletionResultType]::ParameterValue, 'Move a job through the gate, or say what holds it')
            [CompletionResult]::new('accept', 'accept', [CompletionResultType]::ParameterValue, 'Settle a warning with a reason')
            [CompletionResult]::new('send-back', 'send-back', [CompletionResultType]::ParameterValue, 'Send a delivered pair back to the laboratory')
            [CompletionResult]::new('ask', 'ask', [CompletionResultType]::ParameterValue, 'Put a question to the prescriber or the laboratory; it holds the job until it is answered')
            [CompletionResult]::new('answer', 'answer', [CompletionResultType]::ParameterValue, 'Record the answer to an open question')
            [CompletionResult]::new('confirm', 'confirm', [CompletionResultType]::ParameterValue, 'Sign names that somebody else typed, with the PIN; needs sign-in')
            [CompletionResult]::new('begin', 'begin', [CompletionResultType]::ParameterValue, 'Begin a job from an earlier one of the same wearer, with what may be carried over')
            [CompletionResult]::new('repair', 'repair', [CompletionResultType]::ParameterValue, 'Keep a repair or adjustment of a collected pair')
            [CompletionResult]::new('contact', 'contact', [CompletionResultType]::ParameterValue, 'Record what a wearer was told, or tried to be told')
            [CompletionResult]::new('recheck', 'recheck', [CompletionResultType]::ParameterValue, 'Look at a collected pair again, as a new job linked to it')
            [CompletionResult]::new('visit', 'visit', [CompletionResultType]::ParameterValue, 'Line a recheck up with the pair it looks at; name likely causes and the steps left')
            [CompletionResult]::new('remake', 'remake', [CompletionResultType]::ParameterValue, 'Begin the remake that a recheck decided on, as a new job linked to it')
            [CompletionResult]::new('cancel', 'cancel', [CompletionResultType]::ParameterValue, 'Give an open job up')
            [CompletionResult]::new('encrypt', 'encrypt', [CompletionResultType]::ParameterValue, 'Encrypt the book in its place; prints the recovery code, once')
            [CompletionResult]::new('recovery-code', 'recovery-code', [CompletionResultType]::ParameterValue, 'Make a new recovery code for an encrypted book; the one before opens nothing any more')
            [CompletionResult]::new('calc', 'calc', [CompletionResultType]::ParameterValue, 'Answer calculations: JSON Lines in, JSON Lines out')
            [CompletionResult]::new('rx', 'rx', [CompletionResultType]::ParameterValue, 'Read written prescriptions: one a line in, one JSON answer a line out')
            [CompletionResult]::new('checks', 'checks', [CompletionResultType]::ParameterValue, 'List the checks of the gates')
            [CompletionResult]::new('backup', 'backup', [CompletionResultType]::ParameterValue, 'Copy the book into a directory, checked, and let old copies go')
            [CompletionResult]::new('restore', 'restore', [CompletionResultType]::ParameterValue, 'Put a backup in the place of the book; the replaced book is kept')
            [CompletionResult]::new('doctor', 'doctor', [CompletionResultType]::ParameterValue, 'Examine the book')
            [CompletionResult]::new('retention', 'retention', [CompletionResultType]::ParameterValue, 'List the wearers whose records are due for review; erases nothing')
            [CompletionResult]::new('erase', 'erase', [CompletionResultType]::ParameterValue, 'Erase a job for good, or every job of its wearer')
            [CompletionResult]::new('access', 'access', [CompletionResultType]::ParameterValue, 'Write everything the book holds of one wearer, for a wearer who asks')
            [CompletionResult]::new('print', 'print', [CompletionResultType]::ParameterValue, 'Print a sheet of a job: for the tray, the laboratory, the check of centration, the wearer')
            [CompletionResult]::new('practice', 'practice', [CompletionResultType]::ParameterValue, 'The practice''s standard and thresholds')
            [CompletionResult]::new('staff', 'staff', [CompletionResultType]::ParameterValue, 'The people of the practice')
            [CompletionResult]::new('man', 'man', [CompletionResultType]::ParameterValue, 'Write a page of the manual; read it with: rimbook man | man -l -')
            [CompletionResult]::new('completions', 'completions', [CompletionResultType]::ParameterValue, 'Write the completions of a shell')
            break
        }
        'rimbook;demo' {
            [CompletionResult]::new('--into', '--into', [CompletionResultType]::ParameterName, 'A file that does not exist yet [default: a fresh one in the temporary directory]')
            [CompletionResult]::new('--jobs', '--jobs', [CompletionResultType]::ParameterName, 'How many jobs [default: a small, telling practice]')
            [CompletionResult]::new('--seed', '--seed', [CompletionResultType]::ParameterName, 'The same seed gives the same book on the same day')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--no-open', '--no-open', [CompletionResultType]::ParameterName, 'Build the book only')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;import' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who imports')
            [CompletionResult]::new('--mapping', '--mapping', [CompletionResultType]::ParameterName, 'The files are CSV, and this one says which column holds what; own for what export writes')
            [CompletionResult]::new('--wearer', '--wearer', [CompletionResultType]::ParameterName, 'The wearer of a FHIR prescription, in place of the name in the file')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--mapping-template', '--mapping-template', [CompletionResultType]::ParameterName, 'Print a mapping to fill in')
            [CompletionResult]::new('--dry-run', '--dry-run', [CompletionResultType]::ParameterName, 'Read and name what would be refused; import nothing')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;export' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'The format')
            [CompletionResult]::new('--by', '--by', [CompletionResultType]::ParameterName, 'Who exports, where people sign in')
            [CompletionResult]::new('--out', '--out', [CompletionResultType]::ParameterName, 'A file that does not exist yet [default: standard output]')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--all', '--all', [CompletionResultType]::ParameterName, 'Every job of the book')
            [CompletionResult]::new('--bom', '--bom', [CompletionResultType]::ParameterName, 'Begin CSV with the byte-order mark that some spreadsheets need for UTF-8')
            [CompletionResult]::new('--schema', '--schema', [CompletionResultType]::ParameterName, 'Write the JSON Schema of the job file instead')
            [CompletionResult]::new('--skip-unreadable', '--skip-unreadable', [CompletionResultType]::ParameterName, 'Leave out jobs that cannot be read, and say which; the exit status is then 1')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;calendar' {
            [CompletionResult]::new('--from', '--from', [CompletionResultType]::ParameterName, 'The first day [default: today]')
            [CompletionResult]::new('--days', '--days', [CompletionResultType]::ParameterName, 'How many days')
            [CompletionResult]::new('--minutes', '--minutes', [CompletionResultType]::ParameterName, 'How long an appointment takes')
            [CompletionResult]::new('--out', '--out', [CompletionResultType]::ParameterName, 'A file that does not exist yet [default: standard output]')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;list' {
            [CompletionResult]::new('--stage', '--stage', [CompletionResultType]::ParameterName, 'Only this stage')
            [CompletionResult]::new('--on', '--on', [CompletionResultType]::ParameterName, 'Only what is due, promised or to be collected on that day (2026-12-03)')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who looks, where people sign in')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--held', '--held', [CompletionResultType]::ParameterName, 'Only what a check holds')
            [CompletionResult]::new('--late', '--late', [CompletionResultType]::ParameterName, 'Only what is late at the laboratory')
            [CompletionResult]::new('--uncollected', '--uncollected', [CompletionResultType]::ParameterName, 'Only what is ready and not collected for longer than the practice waits')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;find' {
            [CompletionResult]::new('--maker', '--maker', [CompletionResultType]::ParameterName, 'Only who has a frame or lens of this maker')
            [CompletionResult]::new('--product', '--product', [CompletionResultType]::ParameterName, 'Only who has this frame or lens, by its name or the first words of it')
            [CompletionResult]::new('--lot', '--lot', [CompletionResultType]::ParameterName, 'Only who has a frame or lens of this lot')
            [CompletionResult]::new('--limit', '--limit', [CompletionResultType]::ParameterName, 'How many lines at most [default: 20; with maker, product or lot, all]')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who looks, where people sign in')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;figures' {
            [CompletionResult]::new('--from', '--from', [CompletionResultType]::ParameterName, 'The first day (2026-11-03)')
            [CompletionResult]::new('--to', '--to', [CompletionResultType]::ParameterName, 'The last day, itself included')
            [CompletionResult]::new('--month', '--month', [CompletionResultType]::ParameterName, 'A month (2026-11) [default: this month]')
            [CompletionResult]::new('--quarter', '--quarter', [CompletionResultType]::ParameterName, 'A quarter (2026-4)')
            [CompletionResult]::new('--year', '--year', [CompletionResultType]::ParameterName, 'A year (2026)')
            [CompletionResult]::new('--remake-price', '--remake-price', [CompletionResultType]::ParameterName, 'Say what a remake costs the practice, in whole units of its money; 0 takes it back')
            [CompletionResult]::new('--by', '--by', [CompletionResultType]::ParameterName, 'Who says so')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'text for a person, json or csv for a program')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;show' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who looks, where people sign in')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--aloud', '--aloud', [CompletionResultType]::ParameterName, 'Line by line in words, to be read out or heard')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;check' {
            [CompletionResult]::new('--to', '--to', [CompletionResultType]::ParameterName, 'The gate, named by the stage it leads to [default: the next]')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--all', '--all', [CompletionResultType]::ParameterName, 'Every open job at its next gate')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;record' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who records')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;advance' {
            [CompletionResult]::new('--to', '--to', [CompletionResultType]::ParameterName, 'The stage to move to: ordered, verified, collected')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who moves it')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;accept' {
            [CompletionResult]::new('--eye', '--eye', [CompletionResultType]::ParameterName, 'Only the finding about right, left or pair [default: every open one of the check]')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who accepts')
            [CompletionResult]::new('--reason', '--reason', [CompletionResultType]::ParameterName, 'Why')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;send-back' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who sends it')
            [CompletionResult]::new('--reason', '--reason', [CompletionResultType]::ParameterName, 'Why')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;ask' {
            [CompletionResult]::new('--of', '--of', [CompletionResultType]::ParameterName, 'prescriber or laboratory')
            [CompletionResult]::new('--text', '--text', [CompletionResultType]::ParameterName, 'The question')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who asks')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;answer' {
            [CompletionResult]::new('--of', '--of', [CompletionResultType]::ParameterName, 'prescriber or laboratory; needed where both were asked')
            [CompletionResult]::new('--text', '--text', [CompletionResultType]::ParameterName, 'The answer')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who records it')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;confirm' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who confirms')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;begin' {
            [CompletionResult]::new('--for', '--for', [CompletionResultType]::ParameterName, 'second pair, reglaze, replacement, remake or recheck')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who begins it')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;repair' {
            [CompletionResult]::new('--kind', '--kind', [CompletionResultType]::ParameterName, 'pads changed, sides set, front set, screw, lens loose, part replaced, checked or other')
            [CompletionResult]::new('--note', '--note', [CompletionResultType]::ParameterName, 'In words')
            [CompletionResult]::new('--set', '--set', [CompletionResultType]::ParameterName, 'A value as it stands now, such as right.length_to_bend_mm=95; once for each value')
            [CompletionResult]::new('--supervised-by', '--supervised-by', [CompletionResultType]::ParameterName, 'Who supervised, registered and on the premises')
            [CompletionResult]::new('--reason', '--reason', [CompletionResultType]::ParameterName, 'Why it is kept although a check holds it; taken from somebody registered')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who did it')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;contact' {
            [CompletionResult]::new('--how', '--how', [CompletionResultType]::ParameterName, 'telephone, voicemail, message, e-mail, letter or in person')
            [CompletionResult]::new('--told', '--told', [CompletionResultType]::ParameterName, 'What was said or left')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who told them')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--reached', '--reached', [CompletionResultType]::ParameterName, 'The wearer was reached')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;recheck' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who looks')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;visit' {
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;remake' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who begins it')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;cancel' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who gives it up')
            [CompletionResult]::new('--reason', '--reason', [CompletionResultType]::ParameterName, 'Why')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;encrypt' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'A dispensing optician or optometrist; their passphrase will open the book')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;recovery-code' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'A dispensing optician or optometrist')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;calc' {
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;rx' {
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;checks' {
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--markdown', '--markdown', [CompletionResultType]::ParameterName, 'As a page in Markdown')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;backup' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who does it; to set, a dispensing optician or optometrist')
            [CompletionResult]::new('--keep', '--keep', [CompletionResultType]::ParameterName, 'Keep the newest N')
            [CompletionResult]::new('--keep-days', '--keep-days', [CompletionResultType]::ParameterName, 'Keep the newest of each of N days')
            [CompletionResult]::new('--keep-weeks', '--keep-weeks', [CompletionResultType]::ParameterName, 'Keep the newest of each of N weeks')
            [CompletionResult]::new('--keep-months', '--keep-months', [CompletionResultType]::ParameterName, 'Keep the newest of each of N months')
            [CompletionResult]::new('--on-start', '--on-start', [CompletionResultType]::ParameterName, 'Whether the first start of a day makes one')
            [CompletionResult]::new('--on-quit', '--on-quit', [CompletionResultType]::ParameterName, 'Whether leaving the screens after changes makes one')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--set', '--set', [CompletionResultType]::ParameterName, 'Remember directory and numbers from now on; without DIR, sets the numbers alone')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;restore' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who does it: a dispensing optician or optometrist')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;doctor' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who repairs')
            [CompletionResult]::new('--against', '--against', [CompletionResultType]::ParameterName, 'Also say whether history still holds a code that was written down, or a signed head from beside a backup')
            [CompletionResult]::new('--salvage', '--salvage', [CompletionResultType]::ParameterName, 'Write all that can be read into a new book and list the rest')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--repair', '--repair', [CompletionResultType]::ParameterName, 'Repair what can be repaired without a decision')
            [CompletionResult]::new('--head', '--head', [CompletionResultType]::ParameterName, 'Print the newest entry of history as a code to write down, and examine nothing')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;retention' {
            [CompletionResult]::new('--on', '--on', [CompletionResultType]::ParameterName, 'What is due on that day (2026-12-03) [default: today]')
            [CompletionResult]::new('--adult-years', '--adult-years', [CompletionResultType]::ParameterName, 'Set the rule: years after last seen')
            [CompletionResult]::new('--child-until-age', '--child-until-age', [CompletionResultType]::ParameterName, 'Set the rule: whoever was last seen under 18, at least until this birthday')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who sets the rule')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--erased', '--erased', [CompletionResultType]::ParameterName, 'What was erased instead: when, by whom, which number, why')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;erase' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who erases: a dispensing optician or optometrist')
            [CompletionResult]::new('--reason', '--reason', [CompletionResultType]::ParameterName, 'Why; it stays in history, so no name belongs in it')
            [CompletionResult]::new('--confirm', '--confirm', [CompletionResultType]::ParameterName, 'The number again, in place of typing it when asked')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--wearer', '--wearer', [CompletionResultType]::ParameterName, 'Every job of the same wearer: same name, same date of birth')
            [CompletionResult]::new('--sweep', '--sweep', [CompletionResultType]::ParameterName, 'Only rewrite the file without what was erased before, when another terminal was in the way')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;access' {
            [CompletionResult]::new('--name', '--name', [CompletionResultType]::ParameterName, 'The wearer''s whole name, as the jobs have it')
            [CompletionResult]::new('--born', '--born', [CompletionResultType]::ParameterName, 'The wearer''s date of birth (1970-05-01)')
            [CompletionResult]::new('--out', '--out', [CompletionResultType]::ParameterName, 'A file that does not exist yet; only its owner can read it')
            [CompletionResult]::new('--by', '--by', [CompletionResultType]::ParameterName, 'Who gives access')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'text for a person, json for a program')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;print' {
            [CompletionResult]::new('--what', '--what', [CompletionResultType]::ParameterName, 'The sheet: tray, order, chart or wearer')
            [CompletionResult]::new('--out', '--out', [CompletionResultType]::ParameterName, 'A file that does not exist yet; the sheet is written there and not printed')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'pdf, or text for a terminal or a screen reader')
            [CompletionResult]::new('--by', '--by', [CompletionResultType]::ParameterName, 'Who prints, where people sign in')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--open', '--open', [CompletionResultType]::ParameterName, 'Show it in the practice''s viewer instead of printing it')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;practice' {
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('set', 'set', [CompletionResultType]::ParameterValue, 'Set one')
            break
        }
        'rimbook;practice;set' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'A dispensing optician or optometrist')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;staff' {
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('add', 'add', [CompletionResultType]::ParameterValue, 'Add somebody, or the registration number of somebody who has none')
            [CompletionResult]::new('secret', 'secret', [CompletionResultType]::ParameterValue, 'Set a PIN or passphrase; it is asked for, or read from --pin-file')
            [CompletionResult]::new('recovery-code', 'recovery-code', [CompletionResultType]::ParameterValue, 'Make a new recovery code of sign-in and print it once; the earlier one is worth nothing then')
            [CompletionResult]::new('sign-in', 'sign-in', [CompletionResultType]::ParameterValue, 'Ask people to sign in, or not; and when an idle screen is locked')
            [CompletionResult]::new('list', 'list', [CompletionResultType]::ParameterValue, 'List everybody')
            break
        }
        'rimbook;staff;add' {
            [CompletionResult]::new('--name', '--name', [CompletionResultType]::ParameterName, 'name')
            [CompletionResult]::new('--role', '--role', [CompletionResultType]::ParameterName, 'assistant, trainee, dispensing optician or optometrist')
            [CompletionResult]::new('--registration', '--registration', [CompletionResultType]::ParameterName, 'Registration number of a dispensing optician or optometrist')
            [CompletionResult]::new('--supervisor', '--supervisor', [CompletionResultType]::ParameterName, 'A trainee''s supervisor, who is registered')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who adds them, where the practice asks people to sign in')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;staff;secret' {
            [CompletionResult]::new('--name', '--name', [CompletionResultType]::ParameterName, 'Whose')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'Who sets it, when it is another''s; that person''s own PIN is asked for first')
            [CompletionResult]::new('--recovery', '--recovery', [CompletionResultType]::ParameterName, 'A file with the recovery code, for the first PIN on a machine to which the book was restored')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;staff;recovery-code' {
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'A dispensing optician or optometrist')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;staff;sign-in' {
            [CompletionResult]::new('--idle', '--idle', [CompletionResultType]::ParameterName, 'Minutes without a key after which the screen is locked; 0 never')
            [CompletionResult]::new('--as', '--as', [CompletionResultType]::ParameterName, 'A dispensing optician or optometrist')
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;staff;list' {
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;man' {
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
        'rimbook;completions' {
            [CompletionResult]::new('--db', '--db', [CompletionResultType]::ParameterName, 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]')
            [CompletionResult]::new('--pin-file', '--pin-file', [CompletionResultType]::ParameterName, 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking')
            [CompletionResult]::new('--json', '--json', [CompletionResultType]::ParameterName, 'Answer in JSON on standard output')
            [CompletionResult]::new('-h', '-h', [CompletionResultType]::ParameterName, 'Print help')
            [CompletionResult]::new('--help', '--help', [CompletionResultType]::ParameterName, 'Print help')
            break
        }
    })

    $completions.Where{ $_.CompletionText -like "$wordToComplete*" } |
        Sort-Object -Property ListItemText
}
