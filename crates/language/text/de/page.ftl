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
