# What the professional sets for the whole studio.

own-none-link = Verbindung { $key }
own-none-target = Vergleichswert { $key }
own-choose-units = Wählen Sie Zentimeter oder Zoll.

# What several of these pages say
own-settings = Einstellungen
own-kept = <strong>Gespeichert.</strong> Es zählt ab der nächsten Auswertung. Was vorher ausgewertet wurde, bleibt, wie es ist, bis es neu beurteilt wird.
own-waiting = { $n } { $n ->
    [one] Lektion wartet
   *[other] Lektionen warten
} auf Ihre Freigabe.
own-draft-again = { $n ->
    [one] Sie
   *[other] Alle
} neu entwerfen, nach dem, was jetzt eingestellt ist
own-not-kept = <strong>Nicht gespeichert.</strong> { $why }
own-see = Zeigen, was sich ändert
own-terminal = Dasselbe im Terminal:

# What a change would make of the last swings
own-preview = <strong>Was sich ändert.</strong> { $result }
own-preview-no-swing = Noch wurde kein Schwung ausgewertet, also gibt es nichts zu zeigen.
own-preview-nothing = Nichts in den letzten Schwüngen ({ $looked-at }): Bei jedem kommt dasselbe heraus.
own-preview-some = Bei { $n } der letzten Schwünge ({ $looked-at }) kommt etwas anderes heraus. Noch ist nichts gespeichert.
own-preview-swing = { $player }, Schwung { $number }
own-preview-now = jetzt:
own-preview-then = dann:
own-preview-stands-out = nichts fällt auf
own-preview-to-work-on = nichts zu ändern
own-preview-after = { $titles }; danach { $title }

# Where all settings begin, with the unit of length
own-start-kept = <strong>Gespeichert.</strong> Die Seiten zeigen es sofort; Lektionen ab dem nächsten Entwurf.
own-start-targets = Womit Messwerte verglichen werden, jeweils mit der Quelle. { $n } { $n ->
    [one] ist von Ihnen.
   *[other] sind von Ihnen.
}
own-start-causes = Was der Körper mit dem Schläger und dem Ball macht, jeweils mit der Stufe der Belege. { $n } { $n ->
    [one] Verbindung ist
   *[other] Verbindungen sind
} von Ihnen geändert.
own-start-drills = { $own } von Ihnen, neben den { $drills } des Buchs.
own-start-models = { $n } { $n ->
    [one] Schwung, mit dem
   *[other] Schwünge, mit denen
} andere verglichen werden können.
own-unit = Längeneinheit
own-unit-shown = Längen werden angezeigt in
own-unit-keep = Einheit speichern
own-unit-player = Ein Spieler kann eine andere haben: auf der Seite des Spielers unter <em>Fragen, einstellen und wählen</em>.
own-unit-to-player = Diesem Spieler werden Längen angezeigt in
own-unit-as-studio = wie im Studio eingestellt
own-unit-cm = Zentimetern, dahinter Zoll in Klammern
own-unit-in = Zoll, dahinter Zentimeter in Klammern

# Targets
own-targets = Vergleichswerte
own-targets-says = Womit Messwerte verglichen werden. Ein Messwert ist nur dann eine Auffälligkeit, wenn er mit seiner ganzen Unsicherheit außerhalb des Bereichs liegt. { $bands } Bereiche, { $own } davon von Ihnen.
own-target-title = { $measure }: { $moment }
own-target-title-against = { $measure }: { $moment } (verglichen mit: { $against })
own-target-mine = von Ihnen
own-target-comes-from = <strong>Woher er kommt:</strong> { $source }
own-target-doubtful = <strong>Was daran zweifelhaft ist:</strong> { $doubt }
own-target-built-in = <strong>Eingebaut:</strong> { $band }
own-target-from = Von, { $unit }
own-target-to = Bis, { $unit }
own-target-why = Warum; jede Auffälligkeit nennt es
own-target-keep = Diesen Bereich speichern
own-target-back = Zurück zum eingebauten Bereich
own-target-say-why = Sagen Sie, warum: Jede Auffälligkeit zeigt, woher ihr Bereich kommt.
own-target-no-number = „{ $text }“ ist keine Zahl: Schreiben Sie eine wie 2,5.
own-target-degrees = Grad
own-target-seconds = Sekunden
own-target-ratio = Verhältnis
own-basis-own-address = eigene Ansprechposition des Spielers
own-basis-common-practice = Übereinkunft unter Lehrern
own-basis-derived = aus veröffentlichten Zahlen abgeleitet
own-basis-published = veröffentlichte Zahlen
own-basis-professional = von Ihnen
own-basis-own-swing = ein eigener Schwung des Spielers
own-basis-models = Ihre Musterschwünge

# Causes
own-causes = Ursachen
own-causes-says = Von dem, was der Körper macht, zu dem, was der Schläger macht, und von dort zum Ball. Links und rechts gelten hier für Rechtshänder. Alles ist ein Vorschlag an Sie; danach richtet sich, woran zuerst gearbeitet wird. Ausgabe: { $edition }.
own-causes-says-changed = Von dem, was der Körper macht, zu dem, was der Schläger macht, und von dort zum Ball. Links und rechts gelten hier für Rechtshänder. Alles ist ein Vorschlag an Sie; danach richtet sich, woran zuerst gearbeitet wird. Ausgabe: { $edition }, { $n } { $n ->
    [one] Verbindung ist
   *[other] Verbindungen sind
} von Ihnen geändert.
own-causes-to-club = Vom Körper zum Schläger
own-causes-to-ball = Vom Schläger zum Ball
own-causes-own-table = Für eine eigene Tabelle:
own-links = { $n } { $n ->
    [one] Verbindung
   *[other] Verbindungen
}
own-links-changed = { $n } von Ihnen geändert
own-link-leads = führt zu: { $to }
own-link-gives = ergibt: { $to }
own-link-grade = Stufe { $grade }
own-link-because = <mine>{ $now }</mine>, weil: { $why } <soft>(in der Tabelle: { $table })</soft>
own-link-counts = Zählt
own-link-why = Warum
own-link-see = Zeigen, was sich ändert: { $fact }, { $to }
own-link-keep = So speichern
own-link-back = Zurück zur Tabelle
own-link-say-why = Sagen Sie, warum: Nächstes Jahr wollen Sie es wissen.
own-weight-off = aus: zählt nicht
own-weight-sometimes = manchmal: zählt halb
own-weight-often = oft: zählt ganz
own-grade-a = Physik, durch Messung bestätigt
own-grade-b = Studien an Gruppen stimmen überein
own-grade-c = einzelne Studien, oder Studien, die sich widersprechen
own-grade-d = unter Lehrern einig, keine Studie

# Own drills
own-drills = Eigene Übungen
own-drills-says = Eine Seite von Ihnen kommt zum <book>Übungsbuch</book> hinzu oder steht anstelle der Seite mit demselben Schlüssel.
own-drills-not-done = <strong>Nicht gemacht.</strong> { $why }
own-drills-none = Noch keine eigene Übung. Beginnen Sie unten mit einer aus dem Buch, oder nehmen Sie eine Seite auf.
own-drills-instead = { $key }, anstelle der Seite des Buchs
own-drills-change = Ändern
own-drills-change-this = { $drill } ändern
own-drills-out = Weglassen
own-drills-out-this = { $drill } weglassen
own-drills-left-out = Eine weggelassene Seite ist nicht weg: Sie liegt im Ordner des Studios unter <code>drills/left-out</code>.
own-drills-begin = Mit einer Seite des Buchs beginnen
own-drills-the-drill = Die Übung
own-drills-begin-do = Ändern oder eine andere daraus machen
own-drills-take = Eine Seite aufnehmen
own-drills-take-page = Die Seite (SCHLÜSSEL.md)
own-drills-take-stills = Bilder (JPEG), wenn es welche gibt
own-drills-take-moving = Bewegtes Bild (WebP), wenn es eines gibt
own-drills-take-do = Prüfen und aufnehmen
own-drill-title = { $key }: eigene Übung
own-drill-title-new = Eine Übung: eigene Übung
own-drill-new = Eine Seite
own-drill-page = Die Seite einer Übung
own-drill-not-kept = <strong>Nicht gespeichert.</strong> { $why } Was Sie geschrieben haben, steht unten; Bilder müssen Sie noch einmal wählen.
own-drill-how = Zwischen den beiden Zeilen <code>+++</code> stehen die Angaben, danach die Teile in dieser Reihenfolge und mit diesen englischen Namen: Set-up, Steps, Feel, Watch for, Progressions, Cautions, Who should not. Aus <code>{"{lead}"}</code> und <code>{"{trail}"}</code> wird für den Spieler links oder rechts.
own-drill-key = Schlüssel. Einer aus dem Buch: Ihre Seite steht an dessen Stelle. Ein anderer: Ihre Seite kommt zum Buch hinzu.
own-drill-text = Die Seite
own-drill-stills = Bilder (JPEG)
own-drill-moving = Bewegtes Bild (WebP)
own-drill-pictures-stay = Die Bilder, die diese Übung hat, bleiben, wenn Sie keine anderen wählen.
own-drill-do = Prüfen und speichern
own-drill-leave = Lassen, wie sie war
own-drill-no-key = Geben Sie der Seite einen Schlüssel: kleine Buchstaben, Ziffern und Unterstriche, wie in toes_up.
own-drill-no-page = Es gibt keine Seite: Wählen Sie eine Datei, oder schreiben Sie eine.
own-drill-cut-off = Die Seite ist unterwegs abgerissen (<en>{ $why }</en>): Schicken Sie sie noch einmal.

# Model swings
own-models = Musterschwünge
own-models-says = Schwünge, nach denen andere schwingen sollen. Ein Spieler wird mit denen desselben Schlägers verglichen, und desselben Geschlechts, derselben Altersgruppe und Hand, wo es genug gibt; { $fewest } ergeben einen Bereich. Wer mit ihnen verglichen wird, wählen Sie auf der Seite des Spielers.
own-models-kept = <strong>Gespeichert.</strong> Für Spieler, die mit Mustern verglichen werden, gelten ab der nächsten Auswertung andere Bereiche; die Seiten zeigen sie sofort.
own-models-few = { $club }: { $many } von { $fewest }, die ein Bereich braucht.
own-models-none = Noch kein Musterschwung.
own-model = Schwung { $number }: { $club }
own-model-no-longer = Kein Muster mehr
own-model-no-longer-this = Schwung { $number } ist kein Muster mehr
own-models-add = Einen Schwung zum Muster machen
own-models-number = Nummer des Schwungs
own-models-newest = Die neuesten Schwünge
own-models-newest-one = <swing>Schwung { $number }</swing>: { $player }, { $day }
own-models-offered = { $player }, { $day }
own-models-club = Schläger
own-models-club-noted = wie beim Schwung notiert
own-models-make = Zum Muster machen
own-models-no-number = „{ $text }“ ist keine Nummer eines Schwungs.
own-models-no-swing = Es gibt im Studio keinen Schwung { $number }.
own-models-no-club = Mit welchem Schläger wurde der Musterschwung gemacht? Schläger werden nie vermischt.
own-model-no-club = Schläger nicht angegeben
own-model-no-sex = Geschlecht nicht angegeben
own-model-age = Alter { $age }
own-model-no-age = Alter nicht angegeben
own-model-no-hand = Hand nicht angegeben
