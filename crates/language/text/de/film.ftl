# Where to put the phone, drawn. Words in the drawing are short: it is 340 px wide.

film-plan = Wo das Handy steht, von oben gesehen. Von vorn: { $distance } vor dem Spieler, quer zur Brust. Entlang der Ziellinie: { $distance } hinter dem Spieler auf der Linie der Hände, mit Blick zum Ziel. Auf einem Stativ in Hüfthöhe.
film-distance-metres = 4 bis 5 m
film-distance-feet = 13 bis 16 Fuß
film-target = Ziel
film-you = Sie
film-ball = Ball
film-face-on = von vorn
film-down-the-line = entlang der Ziellinie
film-on-the-line = auf der Linie
film-of-your-hands = Ihrer Hände
film-waist-high = in Hüfthöhe,
film-upright = aufrecht, auf einem Stativ

# Two swings side by side
film-before-and-after = Vorher und nachher
film-before-left = Links vorher, rechts nachher
film-before-left-on = Links: vorher, am { $before }. Rechts: nachher, am { $after }.
