# The page Studio and what belongs to it.

keeping-language = Sprache
keeping-language-of-pages = Die Sprache der Seiten des Studios
keeping-language-choose = Diese Sprache wählen

# Backup, storage, what players sent, erasing
keeping-title = Studio
keeping-backup = Sicherung
keeping-sent = Was ein Spieler geschickt hat
keeping-storage = Speicherplatz
keeping-camera = Wie die Kamera steht
keeping-settings = Einstellungen
keeping-under-way = Die Sicherung läuft: { $share } %. Diese Seite schaut von selbst wieder nach.
keeping-making = Die Sicherung läuft
keeping-failed = Die letzte Sicherung ist fehlgeschlagen.
keeping-backup-what = Alles in einer Datei: Spieler, Videos, Lektionen, Ihre eigenen Übungen und Tabellen. Sie wird nach dem Schreiben wieder gelesen. Bewahren Sie sie auf einem anderen Datenträger auf: Was neben dem Studio liegt, geht mit dem Studio verloren.
keeping-fetch = { $file } holen
keeping-no-backup = Von dieser Seite aus wurde noch keine Sicherung gemacht.
keeping-back-up = Jetzt sichern
keeping-restore = Eine Sicherung zurückspielen
keeping-restore-how = Schließen Sie das Studio, dann in einem Terminal:
keeping-restore-file = DATEI
keeping-restore-replace = Ein Studio, das schon da ist, bleibt unberührt, außer Sie fügen <code>--replace</code> hinzu; dann wird es beiseitegelegt, nicht gelöscht.
keeping-sent-how = Zu einer Lektion gehört eine Seite <em>filmen und schicken</em> für das Handy des Spielers. Die eine Datei, die sie erstellt, kommt hier hinein; sie wird geprüft, und ihre Videos werden ausgewertet.
keeping-file = Die Datei
keeping-take-in = Annehmen
keeping-all = Alles zusammen { $all }: die Datenbank { $database }, und je Spieler:
keeping-counting = Was auf der Platte liegt, wird gerade gezählt. <look>Noch einmal nachsehen</look>
keeping-counting-again = Stand vom { $at }; es wird gerade neu gezählt. <look>Noch einmal nachsehen</look>
keeping-no-players = Noch keine Spieler.
keeping-by-player = Speicherplatz je Spieler
keeping-column-player = Spieler
keeping-column-clips = Videos
keeping-column-lessons = Lektionen
keeping-column-films = Filme
keeping-column-pictures = Bilder
keeping-column-together = zusammen
keeping-column-for-player = für den Spieler
keeping-swings = { $swings ->
    [one] { $swings } Schwung
   *[other] { $swings } Schwünge
}
keeping-export-of = Alles von { $name } ausgeben
keeping-export = Alles ausgeben
keeping-erase-of = { $name } löschen …
keeping-erase = Löschen …
keeping-more = Das sind die { $shown } Spieler mit dem meisten; <all>alle { $players }</all>.
keeping-export-what = Eine Ausgabe ist alles, was von einem Spieler aufbewahrt wird, in einer Datei mit einer Seite für den Anfang. Das kann eine Minute dauern.
keeping-again = Was neu erstellt werden kann
keeping-pictures = Bilder für das Ansehen Bild für Bild, { $size }: in Sekunden neu erstellt.
keeping-clear-pictures = Bilder entfernen
keeping-landmarks = Was die Netze gesehen haben, { $size }: neu erstellt, wenn ein Schwung wieder ausgewertet wird, in etwa einer Minute.
keeping-clear-landmarks = Entfernen, was die Netze gesehen haben
keeping-erase-title = { $name } löschen
keeping-erase-trail = Löschen
keeping-erase-heading = { $name } löschen?
keeping-erase-what = <strong>Das kann nicht zurückgenommen werden.</strong> Es entfernt { $what }.
keeping-erase-first = Zuerst, für den Spieler:
keeping-erase-then = Dann löschen
keeping-erase-wrong = Das ist nicht der Name des Spielers: Nichts wurde gelöscht.
keeping-erase-type = Tippen Sie den Namen, { $name }
keeping-erase-for-good = Endgültig löschen
keeping-keep-everything = Alles behalten
keeping-back = Zurück zum Studio
keeping-roster = Heute
keeping-cleared = Entfernt
keeping-cleared-says = { $size } sind wieder frei. Was entfernt wurde, wird bei Bedarf neu erstellt.
keeping-erased = Gelöscht
keeping-erased-says = { $what }. Frühere Sicherungen und Ausgaben enthalten es noch.
keeping-taken-in = Angenommen
keeping-not-done = Nicht erledigt

# In words: what is erased, what was sent
keeping-erased-what = { $name } mit { $swings }, { $clips } und { $lessons } ({ $size }), die Antworten zu Schmerz und Gesundheit, Trainingsaufgaben und Notizen
keeping-count-swings = { $n ->
    [one] 1 Schwung
   *[other] { $n } Schwüngen
}
keeping-count-clips = { $n ->
    [one] 1 Video
   *[other] { $n } Videos
}
keeping-count-lessons = { $n ->
    [one] 1 Lektion
   *[other] { $n } Lektionen
}
keeping-sent-says = { $name } hat { $clips } geschickt, gefilmt am { $day }; { $hurts }
keeping-sent-clips = { $n ->
    [one] 1 Video
   *[other] { $n } Videos
}
keeping-sent-pain = { $where } { $strength } von 10
keeping-sent-hurts = es tut weh: { $where }
keeping-sent-nothing = nichts tut weh
keeping-sent-unanswered = zu Schmerz gab es keine Antwort
keeping-sent-talk = Was weh tut, steht bei den Antworten vor einer Trainingsaufgabe: Sprechen Sie mit { $name }, bevor Sie eine Lektion freigeben
keeping-sent-then = { $said }. Die Videos werden ausgewertet; der Schwung steht in ein, zwei Minuten auf der Seite des Spielers.
keeping-sent-talk-then = { $said }. { $talk }. Die Videos werden ausgewertet; der Schwung steht in ein, zwei Minuten auf der Seite des Spielers.
