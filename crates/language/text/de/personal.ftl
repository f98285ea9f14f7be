personal-none-form = Formular
personal-not-opened = Das Studio wurde nicht für Spieler geöffnet: siehe docs/personal-link.md.
personal-link-days = Ein Link gilt 1 bis { $most } Tage.
