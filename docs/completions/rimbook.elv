
use builtin;
use str;

set edit:completion:arg-completer[rimbook] = {|@words|
    fn spaces {|n|
        builtin:repeat $n ' ' | str:join ''
    }
    fn cand {|text desc|
        edit:complex-candidate $text &display=$text' '(spaces (- 14 (wcswidth $text)))$desc
    }
    var command = 'rimbook'
    for word $words[1..-1] {
        if (str:has-prefix $word '-') {
            break
        }
        set command = $command';'$word
    }
    var completions = [
        &'rimbook'= {
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help (see more with ''--help'')'
            cand --help 'Print help (see more with ''--help'')'
            cand -V 'Print version'
            cand --version 'Print version'
            cand demo 'Build a fresh invented practice, and open it'
            cand import 'Import job files, FHIR prescriptions, or past jobs from CSV; prints the numbers given'
            cand export 'Write jobs as a job file, CSV or FHIR'
            cand calendar 'Write the appointments for collections as iCalendar: when and which job, nothing of the wearer'
            cand list 'List jobs'
            cand find 'Find jobs by name, number, phone, date of birth or frame, or by who has a frame or lens'
            cand figures 'Figures of the practice''s work over a period, beside those of the period before'
            cand show 'Show one job'
            cand check 'Say what the gate finds, without moving'
            cand record 'Merge JSON into one section of a job'
            cand advance 'Move a job through the gate, or say what holds it'
            cand accept 'Settle a warning with a reason'
            cand send-back 'Send a delivered pair back to the laboratory'
            cand ask 'Put a question to the prescriber or the laboratory; it holds the job until it is answered'
            cand answer 'Record the answer to an open question'
            cand confirm 'Sign names that somebody else typed, with the PIN; needs sign-in'
            cand begin 'Begin a job from an earlier one of the same wearer, with what may be carried over'
            cand repair 'Keep a repair or adjustment of a collected pair'
            cand contact 'Record what a wearer was told, or tried to be told'
            cand recheck 'Look at a collected pair again, as a new job linked to it'
            cand visit 'Line a recheck up with the pair it looks at; name likely causes and the steps left'
            cand remake 'Begin the remake that a recheck decided on, as a new job linked to it'
            cand cancel 'Give an open job up'
            cand encrypt 'Encrypt the book in its place; prints the recovery code, once'
            cand recovery-code 'Make a new recovery code for an encrypted book; the one before opens nothing any more'
            cand calc 'Answer calculations: JSON Lines in, JSON Lines out'
            cand rx 'Read written prescriptions: one a line in, one JSON answer a line out'
            cand checks 'List the checks of the gates'
            cand backup 'Copy the book into a directory, checked, and let old copies go'
            cand restore 'Put a backup in the place of the book; the replaced book is kept'
            cand doctor 'Examine the book'
            cand retention 'List the wearers whose records are due for review; erases nothing'
            cand erase 'Erase a job for good, or every job of its wearer'
            cand access 'Write everything the book holds of one wearer, for a wearer who asks'
            cand print 'Print a sheet of a job: for the tray, the laboratory, the check of centration, the wearer'
            cand practice 'The practice''s standard and thresholds'
            cand staff 'The people of the practice'
            cand man 'Write a page of the manual; read it with: rimbook man | man -l -'
            cand completions 'Write the completions of a shell'
        }
        &'rimbook;demo'= {
            cand --into 'A file that does not exist yet [default: a fresh one in the temporary directory]'
            cand --jobs 'How many jobs [default: a small, telling practice]'
            cand --seed 'The same seed gives the same book on the same day'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --no-open 'Build the book only'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;import'= {
            cand --as 'Who imports'
            cand --mapping 'The files are CSV, and this one says which column holds what; own for what export writes'
            cand --wearer 'The wearer of a FHIR prescription, in place of the name in the file'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --mapping-template 'Print a mapping to fill in'
            cand --dry-run 'Read and name what would be refused; import nothing'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;export'= {
            cand --as 'The format'
            cand --by 'Who exports, where people sign in'
            cand --out 'A file that does not exist yet [default: standard output]'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --all 'Every job of the book'
            cand --bom 'Begin CSV with the byte-order mark that some spreadsheets need for UTF-8'
            cand --schema 'Write the JSON Schema of the job file instead'
            cand --skip-unreadable 'Leave out jobs that cannot be read, and say which; the exit status is then 1'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;calendar'= {
            cand --from 'The first day [default: today]'
            cand --days 'How many days'
            cand --minutes 'How long an appointment takes'
            cand --out 'A file that does not exist yet [default: standard output]'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;list'= {
            cand --stage 'Only this stage'
            cand --on 'Only what is due, promised or to be collected on that day (2026-12-03)'
            cand --as 'Who looks, where people sign in'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --held 'Only what a check holds'
            cand --late 'Only what is late at the laboratory'
            cand --uncollected 'Only what is ready and not collected for longer than the practice waits'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;find'= {
            cand --maker 'Only who has a frame or lens of this maker'
            cand --product 'Only who has this frame or lens, by its name or the first words of it'
            cand --lot 'Only who has a frame or lens of this lot'
            cand --limit 'How many lines at most [default: 20; with maker, product or lot, all]'
            cand --as 'Who looks, where people sign in'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;figures'= {
            cand --from 'The first day (2026-11-03)'
            cand --to 'The last day, itself included'
            cand --month 'A month (2026-11) [default: this month]'
            cand --quarter 'A quarter (2026-4)'
            cand --year 'A year (2026)'
            cand --remake-price 'Say what a remake costs the practice, in whole units of its money; 0 takes it back'
            cand --by 'Who says so'
            cand --as 'text for a person, json or csv for a program'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;show'= {
            cand --as 'Who looks, where people sign in'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --aloud 'Line by line in words, to be read out or heard'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;check'= {
            cand --to 'The gate, named by the stage it leads to [default: the next]'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --all 'Every open job at its next gate'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;record'= {
            cand --as 'Who records'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;advance'= {
            cand --to 'The stage to move to: ordered, verified, collected'
            cand --as 'Who moves it'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;accept'= {
            cand --eye 'Only the finding about right, left or pair [default: every open one of the check]'
            cand --as 'Who accepts'
            cand --reason 'Why'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;send-back'= {
            cand --as 'Who sends it'
            cand --reason 'Why'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;ask'= {
            cand --of 'prescriber or laboratory'
            cand --text 'The question'
            cand --as 'Who asks'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;answer'= {
            cand --of 'prescriber or laboratory; needed where both were asked'
            cand --text 'The answer'
            cand --as 'Who records it'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;confirm'= {
            cand --as 'Who confirms'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;begin'= {
            cand --for 'second pair, reglaze, replacement, remake or recheck'
            cand --as 'Who begins it'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;repair'= {
            cand --kind 'pads changed, sides set, front set, screw, lens loose, part replaced, checked or other'
            cand --note 'In words'
            cand --set 'A value as it stands now, such as right.length_to_bend_mm=95; once for each value'
            cand --supervised-by 'Who supervised, registered and on the premises'
            cand --reason 'Why it is kept although a check holds it; taken from somebody registered'
            cand --as 'Who did it'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;contact'= {
            cand --how 'telephone, voicemail, message, e-mail, letter or in person'
            cand --told 'What was said or left'
            cand --as 'Who told them'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --reached 'The wearer was reached'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;recheck'= {
            cand --as 'Who looks'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;visit'= {
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;remake'= {
            cand --as 'Who begins it'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;cancel'= {
            cand --as 'Who gives it up'
            cand --reason 'Why'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;encrypt'= {
            cand --as 'A dispensing optician or optometrist; their passphrase will open the book'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;recovery-code'= {
            cand --as 'A dispensing optician or optometrist'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;calc'= {
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;rx'= {
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;checks'= {
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --markdown 'As a page in Markdown'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;backup'= {
            cand --as 'Who does it; to set, a dispensing optician or optometrist'
            cand --keep 'Keep the newest N'
            cand --keep-days 'Keep the newest of each of N days'
            cand --keep-weeks 'Keep the newest of each of N weeks'
            cand --keep-months 'Keep the newest of each of N months'
            cand --on-start 'Whether the first start of a day makes one'
            cand --on-quit 'Whether leaving the screens after changes makes one'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --set 'Remember directory and numbers from now on; without DIR, sets the numbers alone'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;restore'= {
            cand --as 'Who does it: a dispensing optician or optometrist'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;doctor'= {
            cand --as 'Who repairs'
            cand --against 'Also say whether history still holds a code that was written down, or a signed head from beside a backup'
            cand --salvage 'Write all that can be read into a new book and list the rest'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --repair 'Repair what can be repaired without a decision'
            cand --head 'Print the newest entry of history as a code to write down, and examine nothing'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;retention'= {
            cand --on 'What is due on that day (2026-12-03) [default: today]'
            cand --adult-years 'Set the rule: years after last seen'
            cand --child-until-age 'Set the rule: whoever was last seen under 18, at least until this birthday'
            cand --as 'Who sets the rule'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --erased 'What was erased instead: when, by whom, which number, why'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;erase'= {
            cand --as 'Who erases: a dispensing optician or optometrist'
            cand --reason 'Why; it stays in history, so no name belongs in it'
            cand --confirm 'The number again, in place of typing it when asked'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --wearer 'Every job of the same wearer: same name, same date of birth'
            cand --sweep 'Only rewrite the file without what was erased before, when another terminal was in the way'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;access'= {
            cand --name 'The wearer''s whole name, as the jobs have it'
            cand --born 'The wearer''s date of birth (1970-05-01)'
            cand --out 'A file that does not exist yet; only its owner can read it'
            cand --by 'Who gives access'
            cand --as 'text for a person, json for a program'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;print'= {
            cand --what 'The sheet: tray, order, chart or wearer'
            cand --out 'A file that does not exist yet; the sheet is written there and not printed'
            cand --as 'pdf, or text for a terminal or a screen reader'
            cand --by 'Who prints, where people sign in'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --open 'Show it in the practice''s viewer instead of printing it'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;practice'= {
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
            cand set 'Set one'
        }
        &'rimbook;practice;set'= {
            cand --as 'A dispensing optician or optometrist'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;staff'= {
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
            cand add 'Add somebody, or the registration number of somebody who has none'
            cand secret 'Set a PIN or passphrase; it is asked for, or read from --pin-file'
            cand recovery-code 'Make a new recovery code of sign-in and print it once; the earlier one is worth nothing then'
            cand sign-in 'Ask people to sign in, or not; and when an idle screen is locked'
            cand list 'List everybody'
        }
        &'rimbook;staff;add'= {
            cand --name 'name'
            cand --role 'assistant, trainee, dispensing optician or optometrist'
            cand --registration 'Registration number of a dispensing optician or optometrist'
            cand --supervisor 'A trainee''s supervisor, who is registered'
            cand --as 'Who adds them, where the practice asks people to sign in'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;staff;secret'= {
            cand --name 'Whose'
            cand --as 'Who sets it, when it is another''s; that person''s own PIN is asked for first'
            cand --recovery 'A file with the recovery code, for the first PIN on a machine to which the book was restored'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;staff;recovery-code'= {
            cand --as 'A dispensing optician or optometrist'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;staff;sign-in'= {
            cand --idle 'Minutes without a key after which the screen is locked; 0 never'
            cand --as 'A dispensing optician or optometrist'
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;staff;list'= {
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;man'= {
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
        &'rimbook;completions'= {
            cand --db 'The book to work in [default: RIMBOOK_DB, else book.db in the user''s data directory]'
            cand --pin-file 'Read the PIN or passphrase of --as from a file that only you can read, instead of asking'
            cand --json 'Answer in JSON on standard output'
            cand -h 'Print help'
            cand --help 'Print help'
        }
    ]
    $completions[$command]
}
