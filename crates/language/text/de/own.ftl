own-none-link = Verbindung { $key }
own-none-target = Vergleichswert { $key }
own-choose-units = Wählen Sie Zentimeter oder Zoll.
