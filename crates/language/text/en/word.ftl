# The words of the trade, one for one thing: docs/languages.md. Their English is also in the crate `model`.

# Moments of the swing
word-moment-address = address
word-moment-shaft-level-back = shaft level, going back
word-moment-lead-arm-level-back = lead arm level, going back
word-moment-top = top
word-moment-lead-arm-level-down = lead arm level, coming down
word-moment-shaft-level-down = shaft level, coming down
word-moment-impact = impact
word-moment-finish = finish

# "at impact", inside a sentence
word-at-address = at address
word-at-shaft-level-back = at shaft level, going back
word-at-lead-arm-level-back = at lead arm level, going back
word-at-top = at top
word-at-lead-arm-level-down = at lead arm level, coming down
word-at-shaft-level-down = at shaft level, coming down
word-at-impact = at impact
word-at-finish = at finish

# Where the camera stands
word-view-face-on = face-on
word-view-down-the-line = down the line

# Of a player
word-hand-right = right-handed
word-hand-left = left-handed

# Parts of the body, as headings
word-part-pelvis = Pelvis
word-part-chest = Chest
word-part-head = Head
word-part-arms = Arms and hands
word-part-club = Club
word-part-legs = Legs and feet
word-part-timing = Timing

# Where it hurts
word-area-low-back = lower back
word-area-upper-back = upper back or ribs
word-area-neck = neck
word-area-shoulder = shoulder
word-area-elbow = elbow
word-area-wrist-hand = wrist or hand
word-area-hip = hip or groin
word-area-knee = knee
word-area-ankle-foot = ankle or foot
word-area-chest = chest
word-area-elsewhere = elsewhere

# Where is practised, and in which season
word-place-home = at home, without a ball
word-place-mat = on a mat, into a net
word-place-range = on the range
word-place-course = on the course

word-season-playing = rounds are played as well
word-season-between = no rounds at present
word-season-returning = back after two months or more without golf

# Measures; their signs are said by the ways below
word-measure-pelvis-shift = pelvis shift
word-measure-pelvis-toward-ball = pelvis toward the ball
word-measure-pelvis-turn = pelvis turn
word-measure-pelvis-side-bend = pelvis side bend
word-measure-chest-turn = chest turn
word-measure-chest-side-bend = chest side bend
word-measure-chest-forward-bend = chest forward bend
word-measure-head-shift = head shift
word-measure-head-rise = head rise
word-measure-head-toward-ball = head toward the ball
word-measure-lead-elbow-flexion = lead arm bend
word-measure-trail-elbow-flexion = trail elbow bend
word-measure-trail-elbow-ahead = trail elbow
word-measure-hand-depth = hands toward the ball
word-measure-hand-height = hand height
word-measure-hands-over-way-back = hands against their way back
word-measure-shaft-lean = shaft lean
word-measure-shaft-slope = shaft slope
word-measure-shaft-steepening = shaft against its way back
word-measure-wrist-set = wrist set
word-measure-ball-start = ball's start in the picture
word-measure-knee-line-turn = knee line turn
word-measure-lead-knee-flexion = lead knee bend
word-measure-trail-knee-flexion = trail knee bend
word-measure-trail-knee-toward-ball = trail knee toward the ball
word-measure-stance-width = stance width
word-measure-mass-over-feet = mass over the feet
word-measure-backswing-time = backswing time
word-measure-downswing-time = downswing time
word-measure-tempo-ratio = backswing to downswing
word-measure-pelvis-peak = pelvis turns fastest
word-measure-chest-peak = chest turns fastest
word-measure-lead-arm-peak = lead arm swings fastest
word-measure-hands-peak = hands move fastest
word-measure-chest-after-pelvis = chest peak after pelvis peak
word-measure-lead-arm-after-chest = lead arm peak after chest peak

# Which way a number points
word-way-toward-the-target = toward the target
word-way-away-from-the-target = away from the target
word-way-toward-the-ball = toward the ball
word-way-away-from-the-ball = away from the ball
word-way-more-open = more open
word-way-more-closed = more closed
word-way-lead-side-higher = lead side higher
word-way-trail-side-higher = trail side higher
word-way-forward = forward
word-way-backward = backward
word-way-up = up
word-way-down = down
word-way-bent = bent
word-way-overstretched = overstretched
word-way-ahead-of-the-middle-of-the-side = ahead of the middle of the side
word-way-behind-the-middle-of-the-side = behind the middle of the side
word-way-higher = higher
word-way-lower = lower
word-way-over = over
word-way-under = under
word-way-hands-ahead = hands ahead
word-way-hands-behind = hands behind
word-way-steeper = steeper
word-way-shallower = shallower
word-way-set = set
word-way-away-from-the-player = away from the player
word-way-toward-the-player = toward the player
word-way-of-the-way-from-trail-to-lead-ankle = of the way from trail to lead ankle
word-way-beyond-the-trail-ankle = beyond the trail ankle
word-way-before-impact = before impact
word-way-after-impact = after impact
word-way-later = later
word-way-earlier = earlier

# Where nothing was told
word-not-said = not said

# Kinds of clubs
word-club-driver = driver
word-club-fairway-wood = fairway wood
word-club-hybrid = hybrid
word-club-long-iron = long iron
word-club-mid-iron = mid iron
word-club-short-iron = short iron
word-club-wedge = wedge

# The same as headings
word-view-title-face-on = Face-on
word-view-title-down-the-line = Down the line
word-title-address = Address
word-title-shaft-level-back = Shaft level, going back
word-title-lead-arm-level-back = Lead arm level, going back
word-title-top = Top
word-title-lead-arm-level-down = Lead arm level, coming down
word-title-shaft-level-down = Shaft level, coming down
word-title-impact = Impact
word-title-finish = Finish

# Joints.

word-joint-nose = nose
word-joint-left-eye-inner = left eye's inner corner
word-joint-left-eye = left eye
word-joint-left-eye-outer = left eye's outer corner
word-joint-right-eye-inner = right eye's inner corner
word-joint-right-eye = right eye
word-joint-right-eye-outer = right eye's outer corner
word-joint-left-ear = left ear
word-joint-right-ear = right ear
word-joint-mouth-left = mouth's left corner
word-joint-mouth-right = mouth's right corner
word-joint-left-shoulder = left shoulder
word-joint-right-shoulder = right shoulder
word-joint-left-elbow = left elbow
word-joint-right-elbow = right elbow
word-joint-left-wrist = left wrist
word-joint-right-wrist = right wrist
word-joint-left-pinky = left little finger
word-joint-right-pinky = right little finger
word-joint-left-index = left forefinger
word-joint-right-index = right forefinger
word-joint-left-thumb = left thumb
word-joint-right-thumb = right thumb
word-joint-left-hip = left hip
word-joint-right-hip = right hip
word-joint-left-knee = left knee
word-joint-right-knee = right knee
word-joint-left-ankle = left ankle
word-joint-right-ankle = right ankle
word-joint-left-heel = left heel
word-joint-right-heel = right heel
word-joint-left-toe = left toe
word-joint-right-toe = right toe
