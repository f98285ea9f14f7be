# The lesson: page, paper, and the words that it shares with the film and the letter.

# Who and when
lesson-title = Golf lesson for { $player }, { $date }
lesson-heading = A lesson for { $player }
lesson-byline = { $date } · from { $coach }
lesson-note = A note for you
lesson-sides-right-handed = In this lesson, lead is your left side: it is nearer the target. Trail is your right side.
lesson-sides-left-handed = In this lesson, lead is your right side: it is nearer the target. Trail is your left side.

# Where a player's language is chosen
lesson-language = Language of what the player gets
lesson-language-studio = the studio's

# What it is about
lesson-one-thing = The one thing to work on
lesson-today = Today
lesson-nothing = Nothing stands out
lesson-nothing-says = No number of yours lies clearly outside its range. Keep doing what you do. Keep the numbers below: next time we compare.
lesson-unseen = We can only speak of what the film shows. Not measured this time: { $measures }.
lesson-too-little = The film shows too little to advise on
lesson-too-little-says = None of the three checks gave a number that we trust. So we give no advice: it would be a guess. Below is why, and how to film it again.
lesson-seen = What we saw
lesson-why = Why your ball flies as it does
lesson-why-first = Why this first
lesson-sure = How sure are we?
lesson-sure-a = Sure. Each step is physics, and it has been measured. Still, try it before you believe it.
lesson-sure-b = Fairly sure. Studies of groups of golfers agree. Still, try it before you believe it.
lesson-sure-c = Not very sure. There are only single studies, or studies that do not agree. Try it and see.
lesson-sure-d = It is what teachers agree on. No study has tested it. Try it and see.
lesson-moving = Your swing, slowed down
lesson-moving-says = It has no sound. It slows down and stops for a moment where it matters.

# The goal
lesson-number = The number to reach
lesson-checkpoint = What to reach
lesson-now = Now
lesson-reach = Reach
lesson-reach-about = { $measure }: { $when }.
lesson-cue = Keep in mind
lesson-other-cue = Or try this: { $cue } Keep the one that works.

# The drill
lesson-drill = Your drill
lesson-need = You need:
lesson-set-up = Set up
lesson-steps = Do
lesson-feel = Feel
lesson-dose = How much
lesson-plan = Step by step
lesson-have-it = You have it when:
lesson-watch-for = Watch for
lesson-take-care = Take care
lesson-leave-out = Who should leave it out
lesson-practice = Your practice until we meet again
lesson-no-drill = No drill with this lesson
lesson-no-drill-says = You told us of pain, an injury or an operation? Then practice waits until a physician or physiotherapist agrees. Please talk to { $coach } before you change anything.
lesson-your-professional = your professional
lesson-doing = The drill in three pictures, in order: { $title }.
lesson-doing-one = The drill: { $title }.
lesson-move = See it move
lesson-moves = The drill, moving slowly, again and again. Close it to stop.

# How to film
lesson-film-check = How to film the check
lesson-film-next = How to film the next one
lesson-film-stand = Put the phone upright on a stand at waist height, as drawn. The whole club stays in the picture.
lesson-film-rate = Use sixty pictures a second or more. Film three swings and send them all.
lesson-film-still = The phone must not move. Film in good light, with the sound on.
lesson-film-clothes = Wear clothes that fit closely and stand out from what is behind you.
lesson-film-rest = Stand still for a second before you start. Hold your finish for a second.

# What is good, and what to take care of
lesson-good = What is good already
lesson-keep-it = { $row } Keep it.
lesson-cautions = Before you practise
lesson-caution-warm-up = Warm up first. Stop at once if anything hurts.
lesson-caution-look = Look around before every swing: nobody near the club, nobody in the line of the ball.
lesson-health = We measure how you move, not your health. Do you have pain, an injury or an operation behind you? Then ask a doctor before you practise. The rules of the practice ground come first.

# The three checks
lesson-checks = Your three checks
lesson-key-number = the number and its ±
lesson-key-range = the range we look for
lesson-key-reach = the number to reach
lesson-not-looked-for = We did not look for it in this film.
lesson-tempo = Tempo
lesson-tempo-about = How long the swing takes back and down, in real time.
lesson-moments = Your swing, moment by moment
lesson-range = Range: { $range }
lesson-range-between = between { $low } and { $high }
lesson-range-any = any
lesson-or-more = { $edge } or more
lesson-no-more-than = no more than { $edge }
lesson-about-pelvis-shift = How far the middle of your hips has moved along the target line since address.
lesson-about-knee-line-turn = How far the line through your knees has turned since address, seen from above. Open means turned toward the target.
lesson-about-trail-elbow = Where your trail elbow is, against a line down the middle of that side of your body. Ahead of it means closer to the ball.
lesson-verdict-inside = Inside the range
lesson-verdict-outside = Outside the range
lesson-verdict-cannot-tell = Too close to call
lesson-verdict-no-reference = No range for this one
lesson-verdict-other-view = Not to be seen from this view
lesson-verdict-withheld = Not measured

# Its foot
lesson-how-to-read-title = How to read the numbers.
lesson-how-to-read = Each number comes with a ±. If we could know the true number, it would lie between the two ends 19 times out of 20. We tried this on golfers drawn by a computer, whose every joint is known. On real golfers it may be off by more. Where the ± crosses the edge of a range, it is too close to call. What the camera could not see has no number. We say why.
lesson-how-to-read-captured = Each number comes with a ±. If we could know the true number, it would lie between the two ends 19 times out of 20. That holds if the system that recorded your swing is right within { $mm } mm. We did not test that system. Where the ± crosses the edge of a range, it is too close to call. What was not recorded has no number. We say why.
lesson-sources = Where the ranges come from
lesson-measured-with = measured with Lessonwright { $version }

# Numbers
lesson-to-one = to 1
lesson-inch = in
lesson-between = between { $low } and { $high }
lesson-way-open = more open than at address
lesson-way-closed = more closed than at address
lesson-in-a-line = { $measure }: { $amount }.
lesson-in-a-line-at = { $measure }, { $when }: { $amount }.
lesson-number-of = { $measure }: { $amount }
lesson-noun-pelvis = Pelvis
lesson-noun-knees = Knee line
lesson-noun-elbow = Trail elbow

# Ends of a scale
lesson-end-away = away from the target
lesson-end-toward = toward the target
lesson-end-closed = more closed
lesson-end-open = more open
lesson-end-behind = behind the line
lesson-end-ahead = ahead of it
lesson-end-quicker = quicker
lesson-end-slower = slower

# When a measure is taken: inside a sentence, and as a stretch of the swing
lesson-at-address = at address
lesson-at-shaft-level-back = shaft level, going back
lesson-at-lead-arm-level-back = lead arm level, going back
lesson-at-top = at the top
lesson-at-lead-arm-level-down = lead arm level, coming down
lesson-at-shaft-level-down = shaft level, coming down
lesson-at-impact = at impact
lesson-at-finish = at the finish
lesson-from-to = { $from } { $to }
lesson-from-address = from address
lesson-from-shaft-level-back = from shaft level, going back
lesson-from-lead-arm-level-back = from lead arm level, going back
lesson-from-top = from the top
lesson-from-lead-arm-level-down = from lead arm level, coming down
lesson-from-shaft-level-down = from shaft level, coming down
lesson-from-impact = from impact
lesson-from-finish = from the finish
lesson-to-address = to address
lesson-to-shaft-level-back = to shaft level, going back
lesson-to-lead-arm-level-back = to lead arm level, going back
lesson-to-top = to the top
lesson-to-lead-arm-level-down = to lead arm level, coming down
lesson-to-shaft-level-down = to shaft level, coming down
lesson-to-impact = to impact
lesson-to-finish = to the finish

# Pictures and drawings
lesson-view-face-on = Face-on
lesson-view-down-the-line = Down the line
lesson-shot = { $view }, { $moment }
lesson-line-hips-before = middle of the hips at address
lesson-line-hips-now = middle of the hips now
lesson-line-knees-before = knee line at address
lesson-line-knees-now = knee line now
lesson-line-trunk-side = middle of the trail side
lesson-line-elbow = from there to the trail elbow
lesson-chain-body = Body
lesson-chain-club = Club
lesson-chain-ball = Ball
lesson-chain-then = { $first }, then { $next }
lesson-chain-grade = grade { $grade }
lesson-chain-from-behind = seen from behind
lesson-trend-lesson = lesson

# Why a number is missing, or what limits it: the sentences that the analysis keeps with a measure
