# The page Today.

today-empty = Noch keine Spieler
today-film = Filmen Sie einen Schwung von vorn, entlang der Ziellinie oder beides, und lassen Sie das Programm darauf schauen:
today-command-face-on = VON-VORN.mp4
today-command-down-the-line = ZIELLINIE.mp4
today-command-name = NAME
today-then = Spieler und Schwung sind hier, sobald es fertig ist. Oder <take-in>nehmen Sie zuerst einen Spieler auf</take-in>.
today-coming = Wer kommt
today-nobody-comes = Niemand in den nächsten sieben Tagen.
today-write = Einen Termin eintragen
today-waiting = Wartet auf Sie
today-waiting-for = Wartet auf Sie, { $coach }
today-all-read = Alle Schwünge sind gelesen.
today-waited = wartet seit { $waited }
today-sent-in-waited = aus der Ferne geschickt, wartet seit { $waited }
today-no-lesson = Braucht keine Lektion
today-no-lesson-for = Braucht keine Lektion: { $name }, { $day }
today-more-wait = { $more } weitere warten; gezeigt sind die, die am längsten warten.
today-to-send = Lektionen zum Verschicken
today-none-to-send = Keine freigegebene Lektion wartet auf das Verschicken.
today-approved = vor { $ago } freigegeben
today-not-agreed = Hat dem Zuschicken nicht zugestimmt
today-not-agreed-of = Hat dem Zuschicken nicht zugestimmt: { $name }; Einwilligung eintragen
today-mark-sent = Als verschickt markieren
today-mark-sent-of = Als verschickt markieren: die Lektion von { $name }
today-more = { $more } weitere.
today-due = Wieder zu filmen
today-nobody-due = Niemand ist fällig.
today-due-today = heute fällig
today-due-since = fällig seit { $day }
today-working = Was wirkt
today-more-and-working = { $more } weitere, und was wirkt

# The diary, on the page Today and on a player's page.
today-diary-day = Tag
today-diary-time = Uhrzeit
today-diary-minutes = Minuten
today-diary-place = Ort
today-diary-purpose = Wofür
today-diary-player = Spieler
today-diary-write = Eintragen
today-diary-length = { $n } Min.
today-diary-change-of = Verschieben oder absagen: { $name }, { $time }
today-diary-change = Verschieben oder absagen
today-diary-cancel = Termin absagen
today-diary-move = Verschieben
