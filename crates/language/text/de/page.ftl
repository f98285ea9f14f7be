# What is around every page.

# The tag of this language (BCP 47)
page-language = de

page-skip = Zum Inhalt springen
page-places = Das Studio
page-today = Heute
page-players = Spieler
page-bring-in = Einlesen
page-drills = Übungen
page-progress = Fortschritt
page-studio = Studio
page-search = Alles durchsuchen
page-trail = Wo Sie sind

# How the pages look
page-look = Aussehen der Seiten
page-look-show = Seiten anzeigen
page-look-device = wie auf diesem Gerät eingestellt
page-look-light = hell
page-look-dark = dunkel
page-look-sun = für helle Sonne
page-look-now = (jetzt)

# Where the studio does not answer or could not keep what was sent
page-not-answering = Das Studio antwortet nicht: Es wurde geschlossen, oder dieser Rechner ist beschäftigt. Nichts ist verloren – was Sie geschrieben haben, steht noch hier und wird geschickt, sobald es antwortet. Öffnen Sie es wieder mit lessonwright open.
page-typed-again = Was Sie geschrieben haben, steht wieder hier; es wurde nicht gespeichert. Schicken Sie es noch einmal.
page-disk-full = Die Festplatte ist voll
page-disk-full-what = Auf der Festplatte des Rechners, auf dem das Studio läuft, ist kein Platz mehr; darum wurde das nicht gespeichert. Was vorher gespeichert war, ist unversehrt.
page-disk-full-then = Schaffen Sie Platz – auf der Seite „Studio“ steht unter „Speicherplatz“, was gelöscht werden kann –, gehen Sie dann zurück, und schicken Sie es noch einmal.
page-busy = Das Studio ist beschäftigt
page-busy-what = Ein anderes Programm schreibt in die Datenbank des Studios – eine Sicherung, ein Einlesen, ein zweites Studio –, darum wurde das nicht gespeichert.
page-busy-then = Warten Sie einen Augenblick, gehen Sie dann zurück, und schicken Sie es noch einmal.
page-back = Zurück

# While progress is worked out
page-wait = Wird ausgerechnet
page-wait-says = Die Schwünge von { $players } Spielern werden durchgesehen, weil das Studio gerade geöffnet wurde oder sich etwas geändert hat. Das dauert einige Sekunden; die Seite erscheint dann von selbst.
