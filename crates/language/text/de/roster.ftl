# The roster.

roster-title = Spieler
roster-filter = Nur die, in deren Namen oder Angaben steht
roster-show = Zeigen
roster-none = Noch keine Spieler.
roster-nobody = Niemand hat „{ $named }“.
roster-everybody = Alle zeigen
roster-count = { $players ->
    [one] 1 Spieler
   *[other] { $players } Spieler
}
roster-count-page = { $players ->
    [one] 1 Spieler, Seite { $page } von { $pages }
   *[other] { $players } Spieler, Seite { $page } von { $pages }
}
roster-no-swing = Noch kein Schwung
roster-pages = Seiten der Spielerliste
roster-earlier = Frühere Namen
roster-later = Spätere Namen
roster-page = Seite { $page } von { $pages }
roster-take-in = Einen Spieler aufnehmen
roster-name = Name
roster-plays = Spielt
roster-take-in-button = Aufnehmen
