progress-filmed = Noch nicht ausgewertet
progress-no-lesson = Noch keine Lektion
progress-set-aside = Braucht keine Lektion
progress-drafted = Entwurf zum Lesen
progress-approved = Freigegeben
progress-sent = Verschickt
progress-upshot-not-analysed = Noch nicht ausgewertet
progress-upshot-nothing = Nichts sticht heraus
