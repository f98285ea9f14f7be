# A practice plan: part of a page, and the calendar file.

practice-sum = { $sessions ->
    [one] <strong>{ $sessions } Einheit</strong> bis zur Stunde am { $until }, { $place }: { $swings } Schwünge und Bewegungen im Ganzen.
   *[other] <strong>{ $sessions } Einheiten</strong> bis zur Stunde am { $until }, { $place }: { $swings } Schwünge und Bewegungen im Ganzen.
}
practice-sum-with-balls = { $sessions ->
    [one] <strong>{ $sessions } Einheit</strong> bis zur Stunde am { $until }, { $place }: { $swings } Schwünge und Bewegungen im Ganzen, { $balls } davon mit Ball.
   *[other] <strong>{ $sessions } Einheiten</strong> bis zur Stunde am { $until }, { $place }: { $swings } Schwünge und Bewegungen im Ganzen, { $balls } davon mit Ball.
}
practice-cue = Merksatz:
practice-cue-or = Oder, wenn es Ihnen besser hilft: { $cue }
practice-at-hand = Bereit liegen:
practice-less = Weniger als üblich, weil:
practice-film = filmen
practice-minutes = { $minutes } Minuten
practice-min = { $minutes } Min.
practice-check = Die Prüfung
practice-without-phone = Ohne Handy:
practice-care = Vorsicht
practice-why = Warum es so aufgebaut ist
practice-rules = Übungsregeln: { $edition }.
practice-block-warm-up = Aufwärmen
practice-block-check = Selbstprüfung mit dem Handy
practice-block-drill = Die Übung
practice-block-mixed = Gemischt
practice-block-as-played = Wie auf dem Platz
practice-without-a-ball = Schwünge ohne Ball
practice-balls = Bälle
practice-some-with-a-ball = Schwünge, einige mit Ball
practice-amount = { $swings } { $what }
practice-amount-in-rounds = { $rounds } Runden mit { $swings }: { $what }, dazwischen { $rest } Pause
practice-rest-minutes = { $minutes ->
    [one] { $minutes } Minute
   *[other] { $minutes } Minuten
}
practice-rest-seconds = { $seconds ->
    [one] { $seconds } Sekunde
   *[other] { $seconds } Sekunden
}

# The calendar file
practice-calendar = Golf üben
practice-event = Golf: { $drill }
practice-event-check = Golf: { $drill } und Selbstprüfung mit dem Handy
practice-event-lesson = Golflektion
practice-event-cue = Merksatz: { $cue }
practice-event-stop = Hören Sie bei Schmerz auf, und sehen Sie sich vor jedem Schwung um.

# A drill's station, drawn; words in the drawing are short
practice-target = Ziel
practice-station-ball-left = Die Station von oben gesehen: Ziel links, Füße unter dem Ball. { $things }
practice-station-ball-right = Die Station von oben gesehen: Ziel rechts, Füße unter dem Ball. { $things }
practice-station-place-left = Die Station von oben gesehen: Ziel links, Füße unter dem Platz eines Balls. { $things }
practice-station-place-right = Die Station von oben gesehen: Ziel rechts, Füße unter dem Platz eines Balls. { $things }

# A player's practice plan as a page of the studio, and why there is none.

practice-page-title = Übungsplan von { $player }
practice-page-plan = Übungsplan
practice-page-kicker = { $player }: Übungsplan
practice-page-card = Karte zum Drucken
practice-page-calendar = Kalenderdatei
practice-page-change = Tage, Minuten oder Ort ändern
practice-page-until = Bis zur nächsten Stunde
practice-page-none-title = Kein Übungsplan für { $player }
practice-page-none = Noch kein Übungsplan
practice-page-settings = Fragen, einstellen und wählen
practice-page-back = Zurück zu { $player }
practice-page-not-said = Wo, wann und wie lange geübt wird, ist noch nicht angegeben.
practice-page-no-swing = Es gibt noch keinen ausgewerteten Schwung, also ist nichts aufgegeben.
practice-page-newer = Die Antworten zu Schmerz, Verletzung, Operation und Medikamenten sind neuer als diese Lektion, darum passen Übung und Umfang vielleicht nicht zu ihnen. Entwerfen Sie sie neu.
