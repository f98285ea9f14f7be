# The progress letter.

letter-title = So läuft es: { $player }
letter-heading = So läuft es, { $player }
letter-then-and-now = Damals und jetzt: { $moment }
letter-since = Seit dem { $since } arbeiten Sie daran: { $drill }.
letter-looked = Die Zahl, auf die wir sehen: { $measure }.
letter-looked-when = Die Zahl, auf die wir sehen: { $measure }, { $when }.
letter-cant-tell = Das können wir noch nicht sagen
letter-one-missing = Wir brauchen einen Film von vorher und einen von danach. Einer davon fehlt.
letter-did-it = Sie haben es geschafft
letter-changing = Es ändert sich
letter-other-way = Es ging in die andere Richtung
letter-moved-toward = Es kam Ihrem Zielwert näher. Es ging mindestens { $least } und höchstens { $most }.
letter-reached = Ihr Zielwert ist erreicht.
letter-on-the-way = Sie sind auf dem Weg. Ihr Zielwert ist noch nicht erreicht.
letter-only-practice = Wir haben es gesehen, während Sie die Übung machten. Wir müssen es noch einen Tag später sehen.
letter-right-way = Es ging in die richtige Richtung, um { $least } bis { $most }.
letter-by-chance = Aber eine Zahl, die weit daneben lag, kommt oft durch Zufall ein wenig zurück. Darum warten wir auf mehr Filme.
letter-maybe-none = Die wahre Änderung liegt zwischen { $right } in die richtige und { $wrong } in die falsche Richtung. Es kann also auch gar keine sein.
letter-more-films = Das heißt nicht, dass die Übung nicht hilft. Mehr Filme zeigen es.
letter-moved-away = Es ging von Ihrem Zielwert weg. Es ging mindestens { $least } und höchstens { $most }.
letter-worse-at-first = Wir haben es gesehen, während Sie die Übung machten. Ein neues Gefühl sieht zuerst oft schlechter aus.
letter-not-your-fault = Das ist nicht Ihre Schuld. Vielleicht passt die Übung nicht zu Ihnen.
letter-before = Vorher
letter-now = Jetzt
letter-reach = Ziel
letter-picture-then = Damals, { $day }
letter-picture-now = Jetzt, { $day }
letter-line = gelb: { $what }
letter-line-hips = Mitte der Hüfte
letter-line-knees = Linie durch die Knie
letter-line-elbow = von der Mitte der hinteren Seite zum hinteren Ellbogen
letter-picture = { $when }: { $player }, { $moment }, gesehen { $view }.
letter-with-the-drill = { $swings ->
    [one] { $swings } Schwung
   *[other] { $swings } Schwünge
} mit der Übung, an { $days ->
    [one] { $days } Tag
   *[other] { $days } Tagen
}.
letter-not-said = { $swings ->
    [one] { $swings } Schwung
   *[other] { $swings } Schwünge
} an { $days ->
    [one] { $days } Tag
   *[other] { $days } Tagen
}. Niemand hat gesagt, wie { $swings ->
    [one] er gemacht wurde
   *[other] sie gemacht wurden
}.
letter-later = { $swings ->
    [one] { $swings } Schwung
   *[other] { $swings } Schwünge
} einen Tag später oder mehr, ohne Hilfe, an { $days ->
    [one] { $days } Tag
   *[other] { $days } Tagen
}. { $swings ->
    [one] Er zeigt
   *[other] Sie zeigen
}, was Sie behalten.
letter-elsewhere = { $swings ->
    [one] { $swings } Schwung
   *[other] { $swings } Schwünge
} auf dem Platz oder mit einem anderen Schläger, an { $days ->
    [one] { $days } Tag
   *[other] { $days } Tagen
}.
letter-no-swing = Seit der Lektion wurde kein Schwung von Ihnen gefilmt.
letter-filmed = Was Sie seither gefilmt haben
letter-next = Wie es weitergeht
letter-next-film = Filmen Sie Ihren Schwung ein paarmal. Dann können wir es sagen.
letter-next-keep = Bleiben Sie bei derselben Übung.
letter-next-keep-film = Filmen Sie noch einmal einen Tag nach dem Üben, ohne Hilfe.
letter-next-progress = Gehen Sie mit der Übung einen Schritt weiter.
letter-next-progress-course = Dann zeigen Sie, dass es auf dem Platz bleibt.
letter-next-change = Wir versuchen einen anderen Weg. Es kann ein neuer Merksatz sein oder eine neue Übung.
letter-next-change-ask = Fragen Sie, bevor Sie selbst etwas ändern.
letter-next-wait = Das Üben wartet vorerst.
letter-honest = Wie sicher sind wir?
letter-honest-range = Kein Film ist genau. Das Handy steht jedes Mal etwas anders, und kein Schwung gleicht dem anderen. Darum nennen wir einen Bereich. In 19 von 20 Fällen liegt die wahre Änderung darin.
letter-honest-one = Von vorher gibt es nur einen Schwung. Mit mehr wären wir sicherer.
letter-honest-pictures = Zwei Bilder zeigen zwei Schwünge. Die Zahlen oben beruhen auf allen.

letter-form-title = Fortschrittsbrief für { $player }
letter-form-follow-up = Erfolgskontrolle
letter-form-here = Brief
letter-form-heading = Ein Fortschrittsbrief
letter-form-none = Es gibt noch keinen Brief.
letter-form-what = Er sagt, was sich geändert hat und wie sicher das ist, zeigt denselben Moment damals und jetzt, zählt, was seither gefilmt wurde, und sagt, was als Nächstes kommt. Er entsteht aus dem, was Ihre Erfolgskontrolle heute zeigt, und dauert einige Sekunden.
letter-form-note = Eine Notiz an { $player } ganz oben
letter-form-read = So lesen, wie { $player } ihn bekommt
letter-form-paper = Auf Papier (PDF)
