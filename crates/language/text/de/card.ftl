# The practice card: one sheet.

card-title = Übungskarte: { $drill }
card-sum = { $title }. { $sessions ->
    [one] { $sessions } Einheit
   *[other] { $sessions } Einheiten
} { $place }, bis zur Stunde am { $until }.
card-day = Tag
card-drill = Übung
card-mixed = Gemischt
card-played = Gespielt
card-min = Min.
card-film = Film
card-done = Fertig
card-film-it = filmen
card-as-shown = wie gezeigt
card-steps = Die Übung, Schritt für Schritt
card-film-before = <strong>Filmen:</strong> vor der Übung, wie unter „Die Prüfung“.
card-at-hand = Bereit liegen: { $things }. Nach jeder Runde Pause.
card-mixed-says = <strong>Gemischt:</strong> bei jedem Ball ein anderer Schläger oder ein anderes Ziel, ohne Ball Schwünge im Kopf. <strong>Gespielt:</strong> Ihr ganzer Ablauf; sehen Sie auf nichts, bis der letzte geschlagen ist.
card-check = Die Prüfung
card-station = Die Station
card-right-when = Es stimmt, wenn
card-care = Vorsicht
