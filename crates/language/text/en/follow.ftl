follow-real = Real
follow-away = Away
follow-not-yet = Not yet
follow-nothing-yet = Nothing to judge yet
follow-more = { $n } more: search for a name.
follow-title = Follow-up
follow-heading = Who is due, and what is working
follow-no-players = No players yet
follow-no-players-note = As soon as players are filmed again after a lesson, this page says whose swing changed.
follow-due = Due
follow-nobody-due = Nobody is due.
follow-due-note = Counted from the lesson, or from the last session since that was not practice alone: { $usual-days } days unless you set others on the player’s page.
follow-stuck = Where the change is not happening
follow-nowhere = Nowhere, as far as it can be told: nobody is still within error after two weeks and two sessions, and nobody goes the wrong way.
follow-proposal = Proposal: { $step }.
follow-everybody = Everybody
follow-plus-note = Plus is toward the number to reach; in brackets the 95 % interval.
follow-draft-waits = a draft waits for you
follow-common = In common
follow-common-none = No finding is shared by two players’ latest swings.
follow-common-row = <strong>{ $players } of { $measured }</strong>: { $what } <soft>({ $names })</soft>
follow-drills = What each drill moved
follow-drills-note = Players are not drawn by lot and were taught other things besides: a list to think with, no proof. Who is picked for a number far out is found nearer the others next time without any drill; the third column says how much of the change that would be.
follow-none-prescribed = Nothing prescribed yet.
follow-no-swings = No player has swings before and after it yet.
follow-col-number = Number
follow-col-mean-change = Mean change (95 %)
follow-col-by-chance = By chance alone
follow-col-beyond = Beyond chance (95 %)
follow-practice-only = n = { $players }, { $in-practice } during practice only
follow-too-few = too few for an interval
follow-too-few-to-tell = too few players to tell
follow-besides = besides: { $what }
follow-not-picked = not picked for it
follow-looked-at = { $looked-at } other numbers were looked at; { $by-chance } of them would move beyond its interval by chance.
follow-repeats = How well your set-up repeats each number
follow-repeats-note = From swings of the same player in one session, and from sessions between which nobody taught that number; pulled toward the number’s own ± while there are few. A change between two single swings, or two sessions of five, must be beyond the figure given. A session’s own error does not shrink with more swings.
follow-repeats-none = No number was taken twice yet: film a player’s swing several times, on two days.
follow-repeats-count = { $count ->
    [one] 1 number
   *[other] { $count } numbers
}
follow-col-within = Error from swing to swing
follow-col-between = From session to session
follow-col-mdc-one = A change is beyond error from: one swing each
follow-col-mdc-five = five each
follow-col-own = Its ± says
follow-col-icc = ICC
follow-too-few-players = too few players
follow-player-title = { $player }: follow-up
follow-working = Is it working?
follow-next-lesson = The next lesson is { $due }.
follow-drafts = { $count ->
    [one] One lesson is drafted and not approved: what it prescribes counts when you approve it.
   *[other] { $count } lessons are drafted and not approved: what they prescribe counts when you approve it.
}
follow-none-aimed = Nothing prescribed with a number to reach
follow-none-aimed-note = A prescription counts when its lesson is approved. One that was given elsewhere can be put on record:
follow-since = { $title }, since { $day }
follow-write-letter = Write a progress letter
follow-trends = From session to session
follow-trends-note = Each mark is the mean of a session’s swings, its line the 95 % interval from the errors of your set-up; short dashes are single swings. In the shaded band a session is not to be told from the level before.
follow-up-is = Up is { $plus }.
follow-up-and-down = Up is { $plus }, down is { $minus }.
follow-to-reach = to reach: { $goal }
follow-as-before = as before: from { $low } to { $high }
follow-other-view = { $count ->
    [one] { $count } measured in another view is left out: views have errors of their own.
   *[other] { $count } measured in another view are left out: views have errors of their own.
}
follow-as-table = As a table
follow-col-session = Session
follow-col-made = Swings were
follow-col-mean = Mean
follow-col-each = Each swing, with its own ±
follow-draw-other = Draw another number
follow-draw = Draw
follow-made = How each swing was made
follow-made-note = Only swings without the cue, a day later or more, show what was learned. Mark them, so that practice is not taken for it. A session is a day’s swings; say another day where they belong elsewhere.
follow-day-added = (day added; nobody said when it was filmed)
follow-swing-by-swing = Swing by swing
follow-earlier = Earlier prescriptions
follow-made-as = Made as
follow-made-as-label = { $day }, { $label }: made as
follow-session-of = Session of
follow-session-of-label = { $day }, { $label }: session of another day
follow-mark-label = Mark { $label } of { $day }
follow-mark = Mark
follow-aim-from = from { $start } to <strong>{ $goal }</strong>.
follow-aim = to <strong>{ $goal }</strong>.
follow-change-note = Plus is toward the number to reach; in brackets the 95 % interval. { $basis }. With these swings a change must be beyond { $mdc } to be told from none.
follow-guess = Best guess: { $likely } likely that it moved toward the number, { $half } that it is at least half of the way.
follow-guess-chance = { $by } of it would be expected from chance alone, since the number was picked for being far out.
follow-kinds = Practice, retention and transfer
follow-col-since = Swings since
follow-col-how-many = How many
follow-col-before = Before
follow-col-after = Since
follow-col-change = Change (95 %)
follow-col-so = So it is
follow-could-tell = One more session of five swings could tell a change of { $least } from none.
follow-days = Days to the next lesson (empty: { $usual })
follow-set = Set
follow-ended = Ended on { $day }.
follow-go-on = Go on with it
follow-end = End this prescription today
follow-counts = { $swings } in { $sessions }
follow-swings = { $count ->
    [one] 1 swing
   *[other] { $count } swings
}
follow-sessions = { $count ->
    [one] 1 session
   *[other] { $count } sessions
}
follow-players = { $count ->
    [one] 1 player
   *[other] { $count } players
}
follow-basis = { $kind }: { $to }, against { $from } before
follow-between = { $low } to { $high }
follow-due-today = due today, { $day }
follow-due-since = { $count ->
    [one] due since { $day } (1 day)
   *[other] due since { $day } ({ $count } days)
}
follow-due-on = { $count ->
    [one] due on { $day } (in 1 day)
   *[other] due on { $day } (in { $count } days)
}
follow-without-number = Prescribed without a number to reach
follow-nothing = Nothing prescribed
follow-above = { $what }: above the range
follow-below = { $what }: below the range
follow-names-more = { $names } and { $more } more
follow-fewer-than-one = fewer than one
follow-about = about { $count }
follow-icc-retest = { $icc }; two sessions: { $agreement } ({ $low } to { $high })
follow-swing = swing { $swing }
follow-not-marked = not marked
follow-practice = practice: with the drill or cue
follow-retention = retention: a day later or more, no cue
follow-transfer = transfer: course, ball or another club
follow-counted-practice = during practice
follow-counted-unmarked = not marked
follow-counted-retention = retention
follow-counted-transfer = transfer
follow-step-film = film first
follow-step-keep = keep the drill
follow-step-progress = go one step further
follow-step-change = change the cue or the drill
follow-place = { $measure }, { $moment }
follow-place-from = { $measure }, from { $against } to { $moment }
follow-percent = { $percent } %
follow-percent-less = less than 1 %
follow-percent-more = more than 99 %
follow-toward = { $amount } ({ $interval })
follow-plus-minus = ± { $size }
follow-with-own = { $value } ± { $own }
follow-way = { $amount } ({ $way })
follow-first-practice = During practice
follow-first-unmarked = Not marked
follow-first-retention = Retention
follow-first-transfer = Transfer
follow-first-film = Film first
follow-first-keep = Keep the drill
follow-first-progress = Go one step further
follow-first-change = Change the cue or the drill
follow-no-swing-after = No swing after the prescription has this number yet.
follow-no-swing-before = No swing before the prescription has this number: film a level first.
follow-away-in-practice = It is seen during practice only; a new feel often looks worse at first. Film without the cue a day later.
follow-wrong-way = It goes the wrong way without the cue.
follow-said-real = The change is beyond error and toward the number ({ $kind }; { $swings } in { $sessions }; { $likely } likely to be toward it).
follow-said-not-yet = The change is within error ({ $kind }; { $swings } in { $sessions }; { $likely } likely to be toward it).
follow-said-away = The change is beyond error and away from the number ({ $kind }; { $swings } in { $sessions }; { $likely } likely to be toward it).
follow-not-reached = The number is not reached yet: what works goes on.
follow-reached-with-cue = The number is reached with the cue; whether it is learned shows a day later without it.
follow-reached-unmarked = The number is reached (nobody marked whether with or without the cue).
follow-reached-without-cue = The number is reached without the cue.
follow-shows-elsewhere = It shows in another task as well: time for the next thing.
follow-not-elsewhere = It does not show in another task yet: take the drill there.
follow-next-rung = Next: the drill's next rung, then with a ball, another club, on the course.
follow-days-since = { $count ->
    [one] 1 day
   *[other] { $count } days
}
follow-early = It is early: { $since } and { $sessions } since; a drill gets { $trial } days and { $few } sessions.
follow-half-maybe = Half of the way may be done ({ $half } likely): more swings would tell.
follow-half-not-in-practice = Not even during practice is half of the way likely ({ $half }): try the other cue first.
follow-half-unlikely = It had its time, and half of the way is unlikely ({ $half }): the other cue first, then another drill.
follow-left-out-without = { $count ->
    [one] 1 swing has no such number and is left out.
   *[other] { $count } swings have no such number and are left out.
}
follow-left-out-view = { $count ->
    [one] 1 swing was measured in another view and is left out: views have errors of their own.
   *[other] { $count } swings were measured in another view and are left out: views have errors of their own.
}
follow-day-assumed = { $count ->
    [one] 1 swing does not say when it was filmed; it counts by the day it was added.
   *[other] { $count } swings do not say when they were filmed; they count by the day they were added.
}
follow-too-soon = { $count ->
    [one] 1 swing marked as retention came less than 24 hours after practice; it counts as practice.
   *[other] { $count } swings marked as retention came less than 24 hours after practice; they count as practice.
}
follow-step-too-small = The step asked for, { $step }, is smaller than what one more session of { $swings } swings could tell from none, { $least }: film on several days.
follow-regression-unknown = Too few players to tell what chance alone brings back after a number was picked because it was far out (regression to the mean).
follow-regression-as-much = The change is beyond error, but chance alone could bring back as much after a number was picked because it was far out (regression to the mean).
follow-one-swing-before = The level before rests on one swing.
