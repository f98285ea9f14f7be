# The lesson: page, paper, and the words that it shares with the film and the letter.

# Who and when
lesson-title = Golflektion für { $player }, { $date }
lesson-heading = Eine Lektion für { $player }
lesson-byline = { $date } · von { $coach }
lesson-note = Eine Notiz für Sie
lesson-sides-right-handed = In dieser Lektion ist vorn Ihre linke Seite: Sie ist näher am Ziel. Hinten ist Ihre rechte Seite.
lesson-sides-left-handed = In dieser Lektion ist vorn Ihre rechte Seite: Sie ist näher am Ziel. Hinten ist Ihre linke Seite.

# Where a player's language is chosen
lesson-language = Sprache für den Spieler
lesson-language-studio = die des Studios

# What it is about
lesson-one-thing = Das Eine, woran Sie arbeiten
lesson-today = Heute
lesson-nothing = Nichts fällt auf
lesson-nothing-says = Keine Ihrer Zahlen liegt deutlich außerhalb ihres Bereichs. Machen Sie so weiter. Heben Sie die Zahlen unten auf: Nächstes Mal vergleichen wir.
lesson-unseen = Wir können nur über das sprechen, was der Film zeigt. Diesmal nicht gemessen: { $measures }.
lesson-too-little = Der Film zeigt zu wenig für einen Rat
lesson-too-little-says = Keine der drei Prüfungen gab eine Zahl, der wir trauen. Darum geben wir keinen Rat: Er wäre geraten. Unten steht, warum, und wie Sie noch einmal filmen.
lesson-seen = Was wir gesehen haben
lesson-why = Warum Ihr Ball so fliegt
lesson-why-first = Warum das zuerst
lesson-sure = Wie sicher sind wir?
lesson-sure-a = Sicher. Jeder Schritt ist Physik, und er wurde gemessen. Probieren Sie es trotzdem, bevor Sie es glauben.
lesson-sure-b = Ziemlich sicher. Studien mit Gruppen von Golfern sind sich einig. Probieren Sie es trotzdem, bevor Sie es glauben.
lesson-sure-c = Nicht sehr sicher. Es gibt nur einzelne Studien, oder sie sind sich nicht einig. Probieren Sie es und sehen Sie selbst.
lesson-sure-d = Darüber sind sich Golflehrer einig. Keine Studie hat es geprüft. Probieren Sie es und sehen Sie selbst.
lesson-moving = Ihr Schwung in Zeitlupe
lesson-moving-says = Ohne Ton. Er wird langsamer und bleibt kurz stehen, wo es wichtig ist.

# The goal
lesson-number = Ihr Zielwert
lesson-checkpoint = Was Sie erreichen wollen
lesson-now = Jetzt
lesson-reach = Ziel
lesson-reach-about = { $measure }: { $when }.
lesson-cue = Merksatz
lesson-other-cue = Oder probieren Sie das: { $cue } Behalten Sie, was hilft.

# The drill
lesson-drill = Ihre Übung
lesson-need = Sie brauchen:
lesson-set-up = Aufbau
lesson-steps = So geht es
lesson-feel = Gefühl
lesson-dose = Wie viel
lesson-plan = Schritt für Schritt
lesson-have-it = Sie können es, wenn:
lesson-watch-for = Achten Sie auf
lesson-take-care = Vorsicht
lesson-leave-out = Wer sie auslassen soll
lesson-practice = Ihr Training bis zur nächsten Stunde
lesson-no-drill = Keine Übung in dieser Lektion
lesson-no-drill-says = Sie haben uns von Schmerzen, einer Verletzung oder einer Operation erzählt? Dann wartet das Üben, bis ein Arzt oder Physiotherapeut zustimmt. Bitte sprechen Sie mit { $coach }, bevor Sie etwas ändern.
lesson-your-professional = Ihrem Golflehrer
lesson-doing = Die Übung in drei Bildern, der Reihe nach: { $title }.
lesson-doing-one = Die Übung: { $title }.
lesson-move = In Bewegung ansehen
lesson-moves = Die Übung in langsamer Bewegung, immer wieder. Schließen Sie sie, um anzuhalten.

# How to film
lesson-film-check = So filmen Sie die Prüfung
lesson-film-next = So filmen Sie den nächsten Schwung
lesson-film-stand = Stellen Sie das Handy aufrecht auf ein Stativ in Hüfthöhe, wie gezeichnet. Der ganze Schläger bleibt im Bild.
lesson-film-rate = Filmen Sie mit sechzig Bildern in der Sekunde oder mehr. Filmen Sie drei Schwünge und schicken Sie alle.
lesson-film-still = Das Handy darf sich nicht bewegen. Filmen Sie bei gutem Licht und mit Ton.
lesson-film-clothes = Tragen Sie Kleidung, die eng anliegt und sich vom Hintergrund abhebt.
lesson-film-rest = Stehen Sie eine Sekunde still, bevor Sie beginnen. Halten Sie die Endposition eine Sekunde.

# What is good, and what to take care of
lesson-good = Was schon gut ist
lesson-keep-it = { $row } Behalten Sie das bei.
lesson-cautions = Bevor Sie üben
lesson-caution-warm-up = Wärmen Sie sich zuerst auf. Hören Sie sofort auf, wenn etwas schmerzt.
lesson-caution-look = Sehen Sie sich vor jedem Schwung um: niemand nahe am Schläger, niemand in der Linie des Balls.
lesson-health = Wir messen, wie Sie sich bewegen, nicht Ihre Gesundheit. Haben Sie Schmerzen, eine Verletzung oder eine Operation hinter sich? Dann fragen Sie einen Arzt, bevor Sie üben. Die Regeln der Anlage gehen vor.

# The three checks
lesson-checks = Ihre drei Prüfungen
lesson-key-number = die Zahl und ihr ±
lesson-key-range = der Bereich, den wir suchen
lesson-key-reach = Ihr Zielwert
lesson-not-looked-for = Wir haben in diesem Film nicht danach gesucht.
lesson-tempo = Tempo
lesson-tempo-about = Wie lange der Schwung zurück und nach unten dauert, in echter Zeit.
lesson-moments = Ihr Schwung, Moment für Moment
lesson-range = Bereich: { $range }
lesson-range-between = zwischen { $low } und { $high }
lesson-range-any = beliebig
lesson-or-more = { $edge } oder mehr
lesson-no-more-than = nicht mehr als { $edge }
lesson-about-pelvis-shift = Wie weit die Mitte Ihrer Hüfte seit dem Ansprechen an der Ziellinie entlang gewandert ist.
lesson-about-knee-line-turn = Wie weit sich die Linie durch Ihre Knie seit dem Ansprechen gedreht hat, von oben gesehen. Offen heißt zum Ziel gedreht.
lesson-about-trail-elbow = Wo Ihr hinterer Ellbogen ist, verglichen mit einer Linie durch die Mitte dieser Körperseite. Davor heißt näher am Ball.
lesson-verdict-inside = Im Bereich
lesson-verdict-outside = Außerhalb des Bereichs
lesson-verdict-cannot-tell = Zu knapp für ein Urteil
lesson-verdict-no-reference = Ohne Bereich
lesson-verdict-other-view = Aus dieser Ansicht nicht zu sehen
lesson-verdict-withheld = Nicht gemessen

# Its foot
lesson-how-to-read-title = So lesen Sie die Zahlen.
lesson-how-to-read = Jede Zahl hat ein ±. Wüssten wir die wahre Zahl, läge sie in 19 von 20 Fällen zwischen den beiden Enden. Das haben wir an Golfern geprüft, die ein Computer gezeichnet hat und deren Gelenke alle bekannt sind. Bei echten Golfern kann es mehr danebenliegen. Reicht das ± über den Rand eines Bereichs, ist es zu knapp für ein Urteil. Was die Kamera nicht sehen konnte, hat keine Zahl. Wir sagen, warum.
lesson-how-to-read-captured = Jede Zahl hat ein ±. Wüssten wir die wahre Zahl, läge sie in 19 von 20 Fällen zwischen den beiden Enden. Das gilt, wenn das System, das Ihren Schwung aufgezeichnet hat, auf { $mm } mm genau ist. Geprüft haben wir das System nicht. Reicht das ± über den Rand eines Bereichs, ist es zu knapp für ein Urteil. Was nicht aufgezeichnet ist, hat keine Zahl. Wir sagen, warum.
lesson-sources = Woher die Bereiche kommen
lesson-measured-with = gemessen mit Lessonwright { $version }

# Numbers
lesson-to-one = zu 1
lesson-inch = Zoll
lesson-between = zwischen { $low } und { $high }
lesson-way-open = offener als in der Ansprechposition
lesson-way-closed = geschlossener als in der Ansprechposition
lesson-in-a-line = { $measure }: { $amount }.
lesson-in-a-line-at = { $measure }, { $when }: { $amount }.
lesson-number-of = { $measure }: { $amount }
lesson-noun-pelvis = Becken
lesson-noun-knees = Knielinie
lesson-noun-elbow = Hinterer Ellbogen

# Ends of a scale
lesson-end-away = vom Ziel weg
lesson-end-toward = zum Ziel hin
lesson-end-closed = geschlossener
lesson-end-open = offener
lesson-end-behind = hinter der Linie
lesson-end-ahead = davor
lesson-end-quicker = schneller
lesson-end-slower = langsamer

# When a measure is taken: inside a sentence, and as a stretch of the swing
lesson-at-address = in der Ansprechposition
lesson-at-shaft-level-back = bei waagerechtem Schaft im Rückschwung
lesson-at-lead-arm-level-back = bei waagerechtem vorderem Arm im Rückschwung
lesson-at-top = am höchsten Punkt
lesson-at-lead-arm-level-down = bei waagerechtem vorderem Arm im Abschwung
lesson-at-shaft-level-down = bei waagerechtem Schaft im Abschwung
lesson-at-impact = im Treffmoment
lesson-at-finish = in der Endposition
lesson-from-to = { $from } { $to }
lesson-from-address = von der Ansprechposition
lesson-from-shaft-level-back = vom waagerechten Schaft im Rückschwung
lesson-from-lead-arm-level-back = vom waagerechten vorderen Arm im Rückschwung
lesson-from-top = vom höchsten Punkt
lesson-from-lead-arm-level-down = vom waagerechten vorderen Arm im Abschwung
lesson-from-shaft-level-down = vom waagerechten Schaft im Abschwung
lesson-from-impact = vom Treffmoment
lesson-from-finish = von der Endposition
lesson-to-address = bis zur Ansprechposition
lesson-to-shaft-level-back = bis zum waagerechten Schaft im Rückschwung
lesson-to-lead-arm-level-back = bis zum waagerechten vorderen Arm im Rückschwung
lesson-to-top = bis zum höchsten Punkt
lesson-to-lead-arm-level-down = bis zum waagerechten vorderen Arm im Abschwung
lesson-to-shaft-level-down = bis zum waagerechten Schaft im Abschwung
lesson-to-impact = bis zum Treffmoment
lesson-to-finish = bis zur Endposition

# Pictures and drawings
lesson-view-face-on = Von vorn
lesson-view-down-the-line = Entlang der Ziellinie
lesson-shot = { $view }, { $moment }
lesson-line-hips-before = Mitte der Hüfte in der Ansprechposition
lesson-line-hips-now = Mitte der Hüfte jetzt
lesson-line-knees-before = Knielinie in der Ansprechposition
lesson-line-knees-now = Knielinie jetzt
lesson-line-trunk-side = Mitte der hinteren Seite
lesson-line-elbow = von dort zum hinteren Ellbogen
lesson-chain-body = Körper
lesson-chain-club = Schläger
lesson-chain-ball = Ball
lesson-chain-then = { $first }, dann { $next }
lesson-chain-grade = Stufe { $grade }
lesson-chain-from-behind = von hinten gesehen
lesson-trend-lesson = Lektion

# Why a number is missing, or what limits it: the sentences that the analysis keeps with a measure
