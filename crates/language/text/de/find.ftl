# The search.

find-title = Suche
find-title-of = Suche: { $asked }
find-heading = Alles durchsuchen
find-heading-of = „{ $asked }“
find-in = Spieler, Lektionen, Schwünge, Notizen, Übungen
find-button = Suchen
find-how = Der Anfang eines Wortes genügt; Akzente sind egal, ein Tippfehler in einem längeren Wort auch. Auf einer Tastatur führt <kbd>/</kbd> von überall in das Feld.
find-nothing-long = Nichts enthält diese Wörter. Versuchen Sie es mit weniger Buchstaben oder nur einem Wort.
find-nothing = Nichts enthält diese Wörter.
find-all-of = Alles mit „{ $asked }“
find-players = Spieler
find-lessons = Lektionen
find-swings = Schwünge
find-notes = Notizen
find-drills = Übungen
# Before the number of one, in what is shown of it.
find-swing = Schwung
find-lesson = Lektion
find-silent = Das Studio antwortet nicht. Ist es noch geöffnet?
