# What the coaching says to a player in sentences of its own; the trade's words are data (crates/coaching/data).

# Between the last two of a list
coaching-and = { $first } and { $last }

# Numbers: a length in both units, a band
coaching-length = { $cm } cm ({ $inches } in)
coaching-band = { $low } to { $high }
coaching-in-front = { $amount } in front of
coaching-behind = { $amount } behind

# How the check is filmed
coaching-film-face-on = Film face-on: phone upright on a stand at waist height, 4 to 5 m (13 to 16 ft) from you, opposite the middle of your stance and square to the target line.
coaching-film-down-the-line = Film down the line: phone upright on a stand at waist height, 4 to 5 m (13 to 16 ft) behind you on the line of your hands, looking toward the target. Lay a stick on the ground along the target line, clear of the club: in the picture it must point straight up.
coaching-film = { $place } Whole body and club in the picture, in slow motion if the phone has it (120 frames a second or more). Three swings with the same club as today, from the same place. The number to reach: { $aim }. A change smaller than the ± is not yet a change: compare the middle one of the three.
coaching-aim-hips = hips { $number } ({ $when })
coaching-aim-knees = knees { $number } than at address ({ $when })
coaching-aim-elbow = { $trail } elbow { $number } the middle of your { $trail } side ({ $when })
coaching-aim = { $measure } { $number } ({ $when })
coaching-look = No camera measures this: look. { $checkpoint } Take a picture of it today and one in a week, from the same place, and lay them side by side.

# How much
coaching-dose = { $rounds } { $rounds ->
    [one] round
   *[other] rounds
} of { $swings }, { $days } days a week: { $how }. Rest { $rest } seconds between rounds.
coaching-dose-lowered = { $dose } This is a lowered dose ({ $because }).
coaching-dose-none = None until a physician has agreed.
coaching-because-cleared = a physician's clearance
coaching-because-not-asked = health not asked yet
coaching-because-chosen = your professional's choice
coaching-because-junior = junior
coaching-because-age = age { $age }
coaching-because-pain = pain of { $strength } of { $most }
coaching-because-warning-signs = warning signs
coaching-because-injury = injury
coaching-because-surgery = surgery
coaching-because-condition = condition
coaching-because-balance-medicine = balance medicine
coaching-because-other = other
coaching-because-rule = { $rule }

# Cautions
coaching-caution-tell = Before the first swing, tell your professional of any pain, injury or surgery; with any of these see a physician first.
coaching-caution-cleared = Keep to what your physician has allowed; it comes before this page.
coaching-caution-age = Age was not told: a junior or an older player does half of this.
coaching-caution-warm-up = Warm up for five to ten minutes: walk, turn and swing easily before the first ball.
coaching-caution-stop = Stop at once on new, sharp or spreading pain, numbness, weakness, dizziness or chest pain, and see a physician before you go on.
coaching-caution-look-round = Look all round before every swing: nobody and nothing within reach of the club, nobody in the line of the ball or ahead of it.
coaching-caution-phone = Put the phone on a stand; nobody holds it near the swing or stands where a mis-hit could fly.
coaching-caution-rules = The rules of your range, course or house and your physician's advice come before this page.
coaching-told = You told us of pain, an injury or surgery. Please see a physician before you practise.
coaching-withheld = { $because } This page therefore gives no exercise and no number to reach. What was measured is shown, so that your professional can go on from here once a physician has agreed.

# Where nothing is to be changed, or no drill is left
coaching-no-drill = No drill of the book suits you for this: your professional will show you one.
coaching-chosen-nothing = No change for now: your professional has looked at your swing and leaves it as it is.
coaching-nothing-measured = No change advised: nothing could be measured in this swing. Film it again with the whole body in the picture and the phone square to the target line or on it.
coaching-flies-as-wanted = No change advised: the ball flies as you want it, and no number is far enough outside the range we look for to disturb that.
coaching-nothing-outside = No change advised: no number here is clearly outside the range we look for.
coaching-nothing-explains = No change advised from these numbers: none that is clearly outside the range we look for explains the { $flights }. Look at grip, aim, ball position, face and strike first; the cameras do not see these well enough.

# The chain from body to ball
coaching-not-the-flight = not the { $flights }
coaching-does-not-explain = It does not by itself explain the { $flights } you report.
coaching-goes-with = Ball flights that go with it: { $flights }.

# A drill of the professional's own that has no words in this language
coaching-drill-not-worded = { $changes }

# Why there is less practice than could be
coaching-season-playing = Rounds are swings too: at most three quarters of the usual most.
coaching-season-returning = Back after a long break: at most half of the usual most.

# Blocks of a session
coaching-warm-up = Walk, turn and swing easily; the first swings are small and slow.
coaching-check = Before anything else: film { $swings } full swings with the club of the lesson. How, and the number to reach, is under "The check". Send them or compare the middle one.
coaching-check-look = Look when all three are filmed.
coaching-look-each-round = Look at the checkpoint after each round, not after each swing.
coaching-look-last-round = Look at the checkpoint after the last round only.
coaching-mixed-home = Every swing another shot in your mind: low, high, left, right, short, long.
coaching-mixed-mat = Another club every ball: short iron, long club, middle iron, and again.
coaching-mixed-range = Another club and another target every ball: short iron near, long club far, middle iron between; never the same twice running.
coaching-mixed-course = Drop balls at different places, never two from one: uphill, downhill, short grass, long grass.
coaching-mixed-game = { $mixed } Make it a game: a point for each that does what you called.
coaching-mixed-look = Where it goes is enough; no film.
coaching-as-played = One ball at a time with your whole routine, each to a target of its own. The cue stays in the bag: think of the target.
coaching-as-played-look = Look at nothing until all { $swings } are hit; then count how many did what you wanted.

# A band and what is doubtful about it
coaching-cited = { $source } Doubt: { $doubt }

# Ball flights
coaching-flight-straight = straight ball
coaching-flight-fade = fade
coaching-flight-draw = draw
coaching-flight-slice = slice
coaching-flight-hook = hook
coaching-flight-pull = pull
coaching-flight-pull-slice = pull-slice
coaching-flight-pull-hook = pull-hook
coaching-flight-push = push
coaching-flight-push-slice = push-slice
coaching-flight-push-hook = push-hook
coaching-flight-fat = fat shot
coaching-flight-thin = thin shot
coaching-flight-top = top
coaching-flight-shank = shank
coaching-flight-toe = toe strike
coaching-flight-heel = heel strike
coaching-flight-sky = sky
coaching-flight-high = high, short flight
coaching-flight-low = low flight
