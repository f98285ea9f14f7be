# The words of the trade, one for one thing: docs/languages.md. Their English is also in the crate `model`.

# Moments of the swing
word-moment-address = Ansprechposition
word-moment-shaft-level-back = Schaft waagerecht im Rückschwung
word-moment-lead-arm-level-back = vorderer Arm waagerecht im Rückschwung
word-moment-top = höchster Punkt
word-moment-lead-arm-level-down = vorderer Arm waagerecht im Abschwung
word-moment-shaft-level-down = Schaft waagerecht im Abschwung
word-moment-impact = Treffmoment
word-moment-finish = Endposition

# "at impact", inside a sentence
word-at-address = in der Ansprechposition
word-at-shaft-level-back = bei waagerechtem Schaft im Rückschwung
word-at-lead-arm-level-back = bei waagerechtem vorderem Arm im Rückschwung
word-at-top = am höchsten Punkt
word-at-lead-arm-level-down = bei waagerechtem vorderem Arm im Abschwung
word-at-shaft-level-down = bei waagerechtem Schaft im Abschwung
word-at-impact = im Treffmoment
word-at-finish = in der Endposition

# Where the camera stands
word-view-face-on = von vorn
word-view-down-the-line = entlang der Ziellinie

# Of a player
word-hand-right = Rechtshänder
word-hand-left = Linkshänder

# Parts of the body, as headings
word-part-pelvis = Becken
word-part-chest = Brustkorb
word-part-head = Kopf
word-part-arms = Arme und Hände
word-part-club = Schläger
word-part-legs = Beine und Füße
word-part-timing = Zeiten

# Where it hurts
word-area-low-back = unterer Rücken
word-area-upper-back = oberer Rücken oder Rippen
word-area-neck = Nacken
word-area-shoulder = Schulter
word-area-elbow = Ellbogen
word-area-wrist-hand = Handgelenk oder Hand
word-area-hip = Hüfte oder Leiste
word-area-knee = Knie
word-area-ankle-foot = Knöchel oder Fuß
word-area-chest = Brust
word-area-elsewhere = anderswo

# Where is practised, and in which season
word-place-home = zu Hause, ohne Ball
word-place-mat = auf der Matte, ins Netz
word-place-range = auf der Driving Range
word-place-course = auf dem Platz

word-season-playing = es werden auch Runden gespielt
word-season-between = zurzeit keine Runden
word-season-returning = zurück nach zwei Monaten oder mehr ohne Golf

# Measures; their signs are said by the ways below
word-measure-pelvis-shift = Beckenverschiebung
word-measure-pelvis-toward-ball = Becken zum Ball
word-measure-pelvis-turn = Beckendrehung
word-measure-pelvis-side-bend = Seitneigung des Beckens
word-measure-chest-turn = Brustkorbdrehung
word-measure-chest-side-bend = Seitneigung des Brustkorbs
word-measure-chest-forward-bend = Vorneigung des Brustkorbs
word-measure-head-shift = Kopfverschiebung
word-measure-head-rise = Kopfhöhe
word-measure-head-toward-ball = Kopf zum Ball
word-measure-lead-elbow-flexion = Beugung des vorderen Arms
word-measure-trail-elbow-flexion = Beugung des hinteren Ellbogens
word-measure-trail-elbow-ahead = hinterer Ellbogen
word-measure-hand-depth = Hände zum Ball
word-measure-hand-height = Höhe der Hände
word-measure-hands-over-way-back = Hände gegenüber dem Rückschwung
word-measure-shaft-lean = Schaftneigung
word-measure-shaft-slope = Steilheit des Schafts
word-measure-shaft-steepening = Schaft gegenüber dem Rückschwung
word-measure-wrist-set = Winkeln der Handgelenke
word-measure-ball-start = Start des Balls im Bild
word-measure-knee-line-turn = Drehung der Knielinie
word-measure-lead-knee-flexion = Beugung des vorderen Knies
word-measure-trail-knee-flexion = Beugung des hinteren Knies
word-measure-trail-knee-toward-ball = hinteres Knie zum Ball
word-measure-stance-width = Standbreite
word-measure-mass-over-feet = Körpermasse über den Füßen
word-measure-backswing-time = Dauer des Rückschwungs
word-measure-downswing-time = Dauer des Abschwungs
word-measure-tempo-ratio = Rückschwung zu Abschwung
word-measure-pelvis-peak = Becken dreht am schnellsten
word-measure-chest-peak = Brustkorb dreht am schnellsten
word-measure-lead-arm-peak = vorderer Arm schwingt am schnellsten
word-measure-hands-peak = Hände bewegen sich am schnellsten
word-measure-chest-after-pelvis = Brustkorb nach dem Becken am schnellsten
word-measure-lead-arm-after-chest = vorderer Arm nach dem Brustkorb am schnellsten

# Which way a number points
word-way-toward-the-target = zum Ziel hin
word-way-away-from-the-target = vom Ziel weg
word-way-toward-the-ball = zum Ball hin
word-way-away-from-the-ball = vom Ball weg
word-way-more-open = offener
word-way-more-closed = geschlossener
word-way-lead-side-higher = vordere Seite höher
word-way-trail-side-higher = hintere Seite höher
word-way-forward = nach vorn
word-way-backward = nach hinten
word-way-up = nach oben
word-way-down = nach unten
word-way-bent = gebeugt
word-way-overstretched = überstreckt
word-way-ahead-of-the-middle-of-the-side = vor der Mitte der Seite
word-way-behind-the-middle-of-the-side = hinter der Mitte der Seite
word-way-higher = höher
word-way-lower = tiefer
word-way-over = darüber
word-way-under = darunter
word-way-hands-ahead = Hände voraus
word-way-hands-behind = Hände dahinter
word-way-steeper = steiler
word-way-shallower = flacher
word-way-set = gewinkelt
word-way-away-from-the-player = vom Spieler weg
word-way-toward-the-player = zum Spieler hin
word-way-of-the-way-from-trail-to-lead-ankle = des Wegs vom hinteren zum vorderen Knöchel
word-way-beyond-the-trail-ankle = hinter dem hinteren Knöchel
word-way-before-impact = vor dem Treffmoment
word-way-after-impact = nach dem Treffmoment
word-way-later = später
word-way-earlier = früher

# Where nothing was told
word-not-said = nicht angegeben

# Kinds of clubs
word-club-driver = Driver
word-club-fairway-wood = Fairwayholz
word-club-hybrid = Hybrid
word-club-long-iron = langes Eisen
word-club-mid-iron = mittleres Eisen
word-club-short-iron = kurzes Eisen
word-club-wedge = Wedge

# The same as headings
word-view-title-face-on = Von vorn
word-view-title-down-the-line = Entlang der Ziellinie
word-title-address = Ansprechposition
word-title-shaft-level-back = Schaft waagerecht im Rückschwung
word-title-lead-arm-level-back = Vorderer Arm waagerecht im Rückschwung
word-title-top = Höchster Punkt
word-title-lead-arm-level-down = Vorderer Arm waagerecht im Abschwung
word-title-shaft-level-down = Schaft waagerecht im Abschwung
word-title-impact = Treffmoment
word-title-finish = Endposition

# Joints.

word-joint-nose = Nase
word-joint-left-eye-inner = innerer Winkel des linken Auges
word-joint-left-eye = linkes Auge
word-joint-left-eye-outer = äußerer Winkel des linken Auges
word-joint-right-eye-inner = innerer Winkel des rechten Auges
word-joint-right-eye = rechtes Auge
word-joint-right-eye-outer = äußerer Winkel des rechten Auges
word-joint-left-ear = linkes Ohr
word-joint-right-ear = rechtes Ohr
word-joint-mouth-left = linker Mundwinkel
word-joint-mouth-right = rechter Mundwinkel
word-joint-left-shoulder = linke Schulter
word-joint-right-shoulder = rechte Schulter
word-joint-left-elbow = linker Ellbogen
word-joint-right-elbow = rechter Ellbogen
word-joint-left-wrist = linkes Handgelenk
word-joint-right-wrist = rechtes Handgelenk
word-joint-left-pinky = linker kleiner Finger
word-joint-right-pinky = rechter kleiner Finger
word-joint-left-index = linker Zeigefinger
word-joint-right-index = rechter Zeigefinger
word-joint-left-thumb = linker Daumen
word-joint-right-thumb = rechter Daumen
word-joint-left-hip = linke Hüfte
word-joint-right-hip = rechte Hüfte
word-joint-left-knee = linkes Knie
word-joint-right-knee = rechtes Knie
word-joint-left-ankle = linker Knöchel
word-joint-right-ankle = rechter Knöchel
word-joint-left-heel = linke Ferse
word-joint-right-heel = rechte Ferse
word-joint-left-toe = linke Zehen
word-joint-right-toe = rechte Zehen
