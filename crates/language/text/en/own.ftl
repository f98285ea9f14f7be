# What the professional sets for the whole studio.

own-none-link = link { $key }
own-none-target = target { $key }
own-choose-units = Choose centimetres or inches.

# What several of these pages say
own-settings = Settings
own-kept = <strong>Kept.</strong> It counts from the next analysis on. What was analysed before stays as it is until it is judged again.
own-waiting = { $n } { $n ->
    [one] lesson waits
   *[other] lessons wait
} for your approval.
own-draft-again = Draft { $n ->
    [one] it
   *[other] them
} again by what is set now
own-not-kept = <strong>Not kept.</strong> { $why }
own-see = See what it changes
own-terminal = The same in a terminal:

# What a change would make of the last swings
own-preview = <strong>What it changes.</strong> { $result }
own-preview-no-swing = No swing was analysed yet, so there is nothing to show.
own-preview-nothing = Nothing in the last { $looked-at } swings: each of them comes to the same.
own-preview-some = { $n } of the last { $looked-at } swings come to something else. Nothing is saved yet.
own-preview-swing = { $player }, swing { $number }
own-preview-now = now:
own-preview-then = then:
own-preview-stands-out = nothing stands out
own-preview-to-work-on = nothing to work on
own-preview-after = { $titles }; then { $title }

# Where all settings begin, with the unit of length
own-start-kept = <strong>Kept.</strong> Pages show it at once; lessons from the next draft on.
own-start-targets = What measures are held against, each with its source. { $n } { $n ->
    [one] is
   *[other] are
} your own.
own-start-causes = Which body fact does what to the club and the ball, with the grade of its evidence. { $n } { $n ->
    [one] link is
   *[other] links are
} changed by you.
own-start-drills = { $own } of your own, beside the book's { $drills }.
own-start-models = { $n } { $n ->
    [one] swing
   *[other] swings
} that others can be held against.
own-unit = Unit of length
own-unit-shown = Lengths are shown in
own-unit-keep = Keep the unit
own-unit-player = A player can have another one: on the player's page, <em>Ask, set and choose</em>.
own-unit-to-player = Lengths are shown to this player in
own-unit-as-studio = as the studio has it
own-unit-cm = centimetres first, inches in brackets
own-unit-in = inches first, centimetres in brackets

# Targets
own-targets = Targets
own-targets-says = What measures are held against. A measure is a finding only where its whole interval lies outside the band. { $bands } bands, { $own } of them your own.
own-target-title = { $measure }: { $moment }
own-target-title-against = { $measure }: { $moment }, against { $against }
own-target-mine = your own
own-target-comes-from = <strong>Where it comes from:</strong> { $source }
own-target-doubtful = <strong>What is doubtful:</strong> { $doubt }
own-target-built-in = <strong>Built in:</strong> { $band }
own-target-from = From, { $unit }
own-target-to = To, { $unit }
own-target-why = Why, as every finding will say
own-target-keep = Keep this band
own-target-back = Back to the built-in band
own-target-say-why = Say why: every finding shows where its band comes from.
own-target-no-number = "{ $text }" is no number: type one like 2.5.
own-target-degrees = degrees
own-target-seconds = seconds
own-target-ratio = ratio
own-basis-own-address = the player's own address
own-basis-common-practice = agreement among teachers
own-basis-derived = worked out from published figures
own-basis-published = published figures
own-basis-professional = your own
own-basis-own-swing = an own swing of the player
own-basis-models = your model swings

# Causes
own-causes = Causes
own-causes-says = From what the body does to what the club does, and from there to the ball. All of it is a proposal to you; what is worked on first is ranked by it. Edition: { $edition }.
own-causes-says-changed = From what the body does to what the club does, and from there to the ball. All of it is a proposal to you; what is worked on first is ranked by it. Edition: { $edition }, with { $n } { $n ->
    [one] link
   *[other] links
} changed by you.
own-causes-to-club = From the body to the club
own-causes-to-ball = From the club to the ball
own-causes-own-table = For a table of your own:
own-links = { $n } { $n ->
    [one] link
   *[other] links
}
own-links-changed = { $n } changed by you
own-link-leads = leads to { $to }
own-link-gives = gives { $to }
own-link-grade = grade { $grade }
own-link-because = <mine>{ $now }</mine>, because: { $why } <soft>(the table: { $table })</soft>
own-link-counts = Counts
own-link-why = Why
own-link-see = See what it changes: { $fact }, { $to }
own-link-keep = Keep this
own-link-back = Back to the table's
own-link-say-why = Say why: you will want to know it next year.
own-weight-off = off: counts for nothing
own-weight-sometimes = sometimes: counts half
own-weight-often = often: counts whole
own-grade-a = physics, confirmed by measurement
own-grade-b = group studies agree
own-grade-c = single or conflicting studies
own-grade-d = agreement among teachers, no controlled evidence

# Own drills
own-drills = Own drills
own-drills-says = A page of yours joins the <book>drill book</book>, or stands in place of the page with the same key.
own-drills-not-done = <strong>Not done.</strong> { $why }
own-drills-none = No drill of your own yet. Begin from one of the book below, or take a page in.
own-drills-instead = { $key }, in place of the book's page
own-drills-change = Change
own-drills-change-this = Change { $drill }
own-drills-out = Leave out
own-drills-out-this = Leave { $drill } out
own-drills-left-out = A page that is left out is not thrown away: it lies in the studio's folder, <code>drills/left-out</code>.
own-drills-begin = Begin from a page of the book
own-drills-the-drill = The drill
own-drills-begin-do = Change it, or make another of it
own-drills-take = Take a page in
own-drills-take-page = The page (KEY.md)
own-drills-take-stills = Stills (JPEG), if it has any
own-drills-take-moving = Moving (WebP), if it has one
own-drills-take-do = Check it and take it in
own-drill-title = { $key }: own drill
own-drill-title-new = A drill: own drill
own-drill-new = A page
own-drill-page = A drill's page
own-drill-not-kept = <strong>Not kept.</strong> { $why } What you wrote is below; pictures have to be chosen again.
own-drill-how = Facts stand between the two lines of <code>+++</code>, then the parts in their order: Set-up, Steps, Feel, Watch for, Progressions, Cautions, Who should not. <code>{"{lead}"}</code> and <code>{"{trail}"}</code> become left or right for the player.
own-drill-key = Key. The book's own: yours stands in its place. Another: yours joins the book.
own-drill-text = The page
own-drill-stills = Stills (JPEG)
own-drill-moving = Moving (WebP)
own-drill-pictures-stay = The pictures that this drill has stay unless you choose others.
own-drill-do = Check and keep
own-drill-leave = Leave it as it was
own-drill-no-key = Give the page a key: small letters, digits and underscores, as in toes_up.
own-drill-no-page = There is no page: choose a file, or write one.
own-drill-cut-off = The page was cut off on its way (<en>{ $why }</en>): send it again.

# Model swings
own-models = Model swings
own-models-says = Swings that you would have others swing like. A player is held against those of the same club, and of the same sex, age group and hand where there are enough; { $fewest } make a band. Who is held against them is chosen on each player's page.
own-models-kept = <strong>Kept.</strong> The bands of players who are held against models are other ones from the next analysis on; pages show them at once.
own-models-few = { $club }: { $many } of { $fewest } that a band needs.
own-models-none = No model swing yet.
own-model = Swing { $number }: { $club }
own-model-no-longer = A model no longer
own-model-no-longer-this = Swing { $number } is a model no longer
own-models-add = Make a swing a model
own-models-number = The swing's number
own-models-newest = The newest swings
own-models-newest-one = <swing>Swing { $number }</swing>: { $player }, { $day }
own-models-offered = { $player }, { $day }
own-models-club = Club
own-models-club-noted = as noted with the swing
own-models-make = Make it a model
own-models-no-number = "{ $text }" is no swing's number.
own-models-no-swing = There is no swing { $number } in the studio.
own-models-no-club = With which club was the model swing made? Clubs are never mixed.
own-model-no-club = club not said
own-model-no-sex = sex not said
own-model-age = age { $age }
own-model-no-age = age not said
own-model-no-hand = hand not said
