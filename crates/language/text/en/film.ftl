# Where to put the phone, drawn. Words in the drawing are short: it is 340 px wide.

film-plan = Where to put the phone, seen from above. Face-on: { $distance } in front of the player, square to the chest. Down the line: { $distance } behind the player on the line of the hands, looking at the target. On a stand at waist height.
film-distance-metres = 4 to 5 m
film-distance-feet = 13 to 16 ft
film-target = target
film-you = you
film-ball = ball
film-face-on = face-on
film-down-the-line = down the line
film-on-the-line = on the line
film-of-your-hands = of your hands
film-waist-high = waist high,
film-upright = upright, on a stand

# Two swings side by side
film-before-and-after = Before and after
film-before-left = Before on the left, after on the right
film-before-left-on = Left: before, on { $before }. Right: after, on { $after }.
