# The page Studio and what belongs to it.

keeping-language = Language
keeping-language-of-pages = The language of the studio's pages
keeping-language-choose = Choose this language

# Backup, storage, what players sent, erasing
keeping-title = Studio
keeping-backup = Backup
keeping-sent = What a player sent
keeping-storage = Storage
keeping-camera = How to place the camera
keeping-settings = Settings
keeping-under-way = The backup is being made: { $share } %. This page looks again by itself.
keeping-making = The backup is being made
keeping-failed = The last backup failed.
keeping-backup-what = Everything in one file: players, clips, lessons, your own drills and tables. It is read again after it is written. Keep it on another disk: a backup beside the studio goes where the studio goes.
keeping-fetch = Fetch { $file }
keeping-no-backup = No backup was made from this page yet.
keeping-back-up = Make a backup now
keeping-restore = To restore one
keeping-restore-how = Close the studio, then in a terminal:
keeping-restore-file = FILE
keeping-restore-replace = A studio that is already there is left alone unless you add <code>--replace</code>; then it is moved aside, not removed.
keeping-sent-how = A lesson has a page <em>film and send</em> for the player's phone. The one file that it makes goes in here; it is checked, and its clips are analysed.
keeping-file = The file
keeping-take-in = Take it in
keeping-all = All together { $all }: the database { $database }, and by player:
keeping-counting = What lies on the disk is being counted. <look>Look again</look>
keeping-counting-again = As it was on { $at }; it is being counted again. <look>Look again</look>
keeping-no-players = No players yet.
keeping-by-player = Storage by player
keeping-column-player = player
keeping-column-clips = clips
keeping-column-lessons = lessons
keeping-column-films = films
keeping-column-pictures = pictures
keeping-column-together = together
keeping-column-for-player = for the player
keeping-swings = { $swings ->
    [one] { $swings } swing
   *[other] { $swings } swings
}
keeping-export-of = Export all of { $name }
keeping-export = Export all
keeping-erase-of = Erase { $name } …
keeping-erase = Erase …
keeping-more = These are the { $shown } players with the most; <all>all { $players }</all>.
keeping-export-what = An export is everything that is kept of a player, in one file with a page to begin with. It can take a minute.
keeping-again = What can be made again
keeping-pictures = Pictures for looking frame by frame, { $size }: made again in seconds.
keeping-clear-pictures = Clear the pictures
keeping-landmarks = What the networks saw, { $size }: made again when a swing is analysed again, in about a minute.
keeping-clear-landmarks = Clear what the networks saw
keeping-erase-title = Erase { $name }
keeping-erase-trail = Erase
keeping-erase-heading = Erase { $name }?
keeping-erase-what = <strong>This can't be taken back.</strong> It removes { $what }.
keeping-erase-first = First, for the player:
keeping-erase-then = Then erase
keeping-erase-wrong = That is not the player's name: nothing was erased.
keeping-erase-type = Type the name, { $name }
keeping-erase-for-good = Erase for good
keeping-keep-everything = Keep everything
keeping-back = Back to the studio
keeping-roster = Roster
keeping-cleared = Cleared
keeping-cleared-says = { $size } are free again. What was cleared is made again when it is needed.
keeping-erased = Erased
keeping-erased-says = { $what }. Backups and exports made before still hold it.
keeping-taken-in = Taken in
keeping-not-done = Not done

# In words: what is erased, what was sent
keeping-erased-what = { $name } with { $swings }, { $clips } and { $lessons } ({ $size }), the answers on pain and health, prescriptions and notes
keeping-count-swings = { $n ->
    [one] 1 swing
   *[other] { $n } swings
}
keeping-count-clips = { $n ->
    [one] 1 clip
   *[other] { $n } clips
}
keeping-count-lessons = { $n ->
    [one] 1 lesson
   *[other] { $n } lessons
}
keeping-sent-says = { $name } sent { $clips }, filmed on { $day }; { $hurts }
keeping-sent-clips = { $n ->
    [one] 1 clip
   *[other] { $n } clips
}
keeping-sent-pain = { $where } { $strength } of 10
keeping-sent-hurts = it hurts: { $where }
keeping-sent-nothing = nothing hurts
keeping-sent-unanswered = pain was not answered
keeping-sent-talk = What hurts is noted with the answers before a prescription: talk to { $name } before you approve a lesson
keeping-sent-then = { $said }. The clips are being analysed; the swing is on the player's page in a minute or two.
keeping-sent-talk-then = { $said }. { $talk }. The clips are being analysed; the swing is on the player's page in a minute or two.
