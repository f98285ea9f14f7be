# A practice plan: part of a page, and the calendar file.

practice-sum = { $sessions ->
    [one] <strong>{ $sessions } session</strong> until the lesson of { $until }, { $place }: { $swings } swings and movements in all.
   *[other] <strong>{ $sessions } sessions</strong> until the lesson of { $until }, { $place }: { $swings } swings and movements in all.
}
practice-sum-with-balls = { $sessions ->
    [one] <strong>{ $sessions } session</strong> until the lesson of { $until }, { $place }: { $swings } swings and movements in all, { $balls } of them with a ball.
   *[other] <strong>{ $sessions } sessions</strong> until the lesson of { $until }, { $place }: { $swings } swings and movements in all, { $balls } of them with a ball.
}
practice-cue = Cue:
practice-cue-or = Or, if it works better for you: { $cue }
practice-at-hand = At hand:
practice-less = Less than usual, because:
practice-film = film
practice-minutes = { $minutes } minutes
practice-min = { $minutes } min
practice-check = The check
practice-without-phone = Without a phone:
practice-care = Take care
practice-why = Why it is built like this
practice-rules = Practice rules: { $edition }.
practice-block-warm-up = Warm up
practice-block-check = Self-check by phone
practice-block-drill = The drill
practice-block-mixed = Mixed
practice-block-as-played = As on the course
practice-without-a-ball = swings without a ball
practice-balls = balls
practice-some-with-a-ball = swings, some with a ball
practice-amount = { $swings } { $what }
practice-amount-in-rounds = { $rounds } rounds of { $swings } { $what }, rest { $rest } between
practice-rest-minutes = { $minutes ->
    [one] { $minutes } minute
   *[other] { $minutes } minutes
}
practice-rest-seconds = { $seconds ->
    [one] { $seconds } second
   *[other] { $seconds } seconds
}

# The calendar file
practice-calendar = Golf practice
practice-event = Golf: { $drill }
practice-event-check = Golf: { $drill } and self-check by phone
practice-event-lesson = Golf lesson
practice-event-cue = Cue: { $cue }
practice-event-stop = Stop on pain, and look all round before every swing.

# A drill's station, drawn; words in the drawing are short
practice-target = target
practice-station-ball-left = The station seen from above: target to the left, feet below the ball. { $things }
practice-station-ball-right = The station seen from above: target to the right, feet below the ball. { $things }
practice-station-place-left = The station seen from above: target to the left, feet below the place of a ball. { $things }
practice-station-place-right = The station seen from above: target to the right, feet below the place of a ball. { $things }

# A player's practice plan as a page of the studio, and why there is none.

practice-page-title = Practice of { $player }
practice-page-plan = Practice plan
practice-page-kicker = { $player }: practice plan
practice-page-card = Card to print
practice-page-calendar = Calendar file
practice-page-change = Change days, minutes or place
practice-page-until = Until the next lesson
practice-page-none-title = No practice plan for { $player }
practice-page-none = No practice plan yet
practice-page-settings = Ask, set and choose
practice-page-back = Back to { $player }
practice-page-not-said = Where, when and how long the player practises has not been said yet.
practice-page-no-swing = There is no analysed swing yet, so nothing is prescribed.
practice-page-newer = The answers on pain, injury, surgery and medicine are newer than this lesson, so its drill and dose may not fit them. Draft it again.
