# The roster.

roster-title = Players
roster-filter = Only those whose name or facts have
roster-show = Show
roster-none = No players yet.
roster-nobody = Nobody has “{ $named }”.
roster-everybody = Show everybody
roster-count = { $players ->
    [one] 1 player
   *[other] { $players } players
}
roster-count-page = { $players ->
    [one] 1 player, page { $page } of { $pages }
   *[other] { $players } players, page { $page } of { $pages }
}
roster-no-swing = No swing yet
roster-pages = Pages of the roster
roster-earlier = Earlier names
roster-later = Later names
roster-page = Page { $page } of { $pages }
roster-take-in = Take a player in
roster-name = Name
roster-plays = Plays
roster-take-in-button = Take in
