# The progress letter.

letter-title = How it is going: { $player }
letter-heading = How it is going, { $player }
letter-then-and-now = Then and now: { $moment }
letter-since = You have worked on this since { $since }: { $drill }.
letter-looked = The number we look at: { $measure }.
letter-looked-when = The number we look at: { $measure }. { $when }.
letter-cant-tell = We can’t tell yet
letter-one-missing = We need a film from before and one from after. One of them is missing.
letter-did-it = You did it
letter-changing = It is changing
letter-other-way = It went the other way
letter-moved-toward = It moved toward your number. The move is at least { $least } and at most { $most }.
letter-reached = Your number is reached.
letter-on-the-way = You are on the way. Your number is not reached yet.
letter-only-practice = We saw it while you did the drill. We still have to see it a day later.
letter-right-way = It moved the right way, by { $least } to { $most }.
letter-by-chance = But a number that was far out often comes back a little by chance. So we wait for more films.
letter-maybe-none = The true change lies between { $right } the right way and { $wrong } the wrong way. So it may be none at all.
letter-more-films = This does not mean that the drill fails. More films will tell.
letter-moved-away = It moved away from your number. The move is at least { $least } and at most { $most }.
letter-worse-at-first = We saw it while you did the drill. A new feel often looks worse at first.
letter-not-your-fault = That is not your fault. The drill may not suit you.
letter-before = Before
letter-now = Now
letter-reach = Reach
letter-picture-then = Then, { $day }
letter-picture-now = Now, { $day }
letter-line = yellow: { $what }
letter-line-hips = middle of the hips
letter-line-knees = line through the knees
letter-line-elbow = from the middle of the trail side to the trail elbow
letter-picture = { $when }: { $player } at { $moment }, seen { $view }.
letter-with-the-drill = { $swings ->
    [one] { $swings } swing
   *[other] { $swings } swings
} with the drill, on { $days ->
    [one] { $days } day
   *[other] { $days } days
}.
letter-not-said = { $swings ->
    [one] { $swings } swing
   *[other] { $swings } swings
} on { $days ->
    [one] { $days } day
   *[other] { $days } days
}. Nobody said how { $swings ->
    [one] it was
   *[other] they were
} made.
letter-later = { $swings ->
    [one] { $swings } swing
   *[other] { $swings } swings
} a day later or more, with no help, on { $days ->
    [one] { $days } day
   *[other] { $days } days
}. { $swings ->
    [one] It shows
   *[other] These show
} what you keep.
letter-elsewhere = { $swings ->
    [one] { $swings } swing
   *[other] { $swings } swings
} on the course or with another club, on { $days ->
    [one] { $days } day
   *[other] { $days } days
}.
letter-no-swing = No swing of yours was filmed since the lesson.
letter-filmed = What you have filmed since
letter-next = What comes next
letter-next-film = Film your swing a few times. Then we can tell.
letter-next-keep = Keep the same drill.
letter-next-keep-film = Film it again a day after you practise, with no help.
letter-next-progress = Go one step further with the drill.
letter-next-progress-course = Then show that it stays on the course.
letter-next-change = We try another way. It may be a new cue, or a new drill.
letter-next-change-ask = Ask before you change it on your own.
letter-next-wait = Practice waits for now.
letter-honest = How sure are we?
letter-honest-range = No film is exact. The phone stands a little elsewhere each time, and no two swings are the same. So we give a range. It holds the true change 19 times in 20.
letter-honest-one = There is only one swing from before. More would make us more sure.
letter-honest-pictures = Two pictures show two swings. The numbers above rest on all of them.

letter-form-title = Progress letter for { $player }
letter-form-follow-up = Follow-up
letter-form-here = Letter
letter-form-heading = A progress letter
letter-form-none = There is no letter yet.
letter-form-what = It says what changed and how sure that is, shows the same moment then and now, counts what was filmed since, and says what comes next. It is made from what your follow-up shows today, and takes some seconds.
letter-form-note = A note to { $player } at its top
letter-form-read = Read it as { $player } gets it
letter-form-paper = On paper (PDF)
