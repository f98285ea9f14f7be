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
