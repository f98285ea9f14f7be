follow-real = Echt
follow-away = Weg davon
follow-not-yet = Noch nicht
follow-nothing-yet = Noch nichts zu beurteilen
follow-more = { $n } weitere: Suchen Sie nach einem Namen.
follow-title = Erfolgskontrolle
follow-heading = Wer an der Reihe ist und was wirkt
follow-no-players = Noch keine Spieler
follow-no-players-note = Sobald Spieler nach einer Lektion wieder gefilmt werden, sagt diese Seite, wessen Schwung sich geändert hat.
follow-due = An der Reihe
follow-nobody-due = Niemand ist an der Reihe.
follow-due-note = Gezählt ab der Lektion oder ab der letzten Einheit seither, die nicht nur Üben war: { $usual-days } Tage, wenn Sie auf der Seite des Spielers nichts anderes festlegen.
follow-stuck = Wo sich nichts ändert
follow-nowhere = Nirgends, soweit es sich sagen lässt: Niemand ist nach zwei Wochen und zwei Einheiten noch innerhalb des Fehlers, und niemand geht in die falsche Richtung.
follow-proposal = Vorschlag: { $step }.
follow-everybody = Alle
follow-plus-note = Plus heißt auf den Zielwert zu; in Klammern das 95-%-Intervall.
follow-draft-waits = ein Entwurf wartet auf Sie
follow-common = Gemeinsames
follow-common-none = Keine Auffälligkeit kommt in den letzten Schwüngen von zwei Spielern vor.
follow-common-row = <strong>{ $players } von { $measured }</strong>: { $what } <soft>({ $names })</soft>
follow-drills = Was jede Übung bewegt hat
follow-drills-note = Die Spieler sind nicht ausgelost und wurden daneben in anderem unterrichtet: eine Liste zum Nachdenken, kein Beweis. Wer wegen einer Zahl weit draußen ausgewählt wird, liegt beim nächsten Mal auch ohne Übung näher bei den anderen; die dritte Spalte sagt, wie viel der Änderung das wäre.
follow-none-prescribed = Noch keine Trainingsaufgabe gegeben.
follow-no-swings = Noch hat kein Spieler Schwünge davor und danach.
follow-col-number = Zahl
follow-col-mean-change = Mittlere Änderung (95 %)
follow-col-by-chance = Allein durch Zufall
follow-col-beyond = Über den Zufall hinaus (95 %)
follow-practice-only = n = { $players }, { $in-practice } nur beim Üben
follow-too-few = zu wenige für ein Intervall
follow-too-few-to-tell = zu wenige Spieler, um es zu sagen
follow-besides = daneben: { $what }
follow-not-picked = nicht dafür ausgewählt
follow-looked-at = { $looked-at } andere Zahlen wurden angesehen; { $by-chance } davon würden sich zufällig über ihr Intervall hinaus bewegen.
follow-repeats = Wie gut Ihr Aufbau jede Zahl wiederholt
follow-repeats-note = Aus Schwüngen desselben Spielers in einer Einheit und aus Einheiten, zwischen denen niemand diese Zahl unterrichtet hat; zum eigenen ± der Zahl hingezogen, solange es wenige sind. Eine Änderung zwischen zwei einzelnen Schwüngen oder zwei Einheiten zu fünf muss größer sein als die angegebene Zahl. Der Fehler einer Einheit selbst schrumpft nicht mit mehr Schwüngen.
follow-repeats-none = Noch wurde keine Zahl zweimal erhoben: Filmen Sie den Schwung eines Spielers mehrmals, an zwei Tagen.
follow-repeats-count = { $count ->
    [one] 1 Zahl
   *[other] { $count } Zahlen
}
follow-col-within = Fehler von Schwung zu Schwung
follow-col-between = Von Einheit zu Einheit
follow-col-mdc-one = Eine Änderung ist größer als der Fehler ab: je ein Schwung
follow-col-mdc-five = je fünf
follow-col-own = Ihr ± sagt
follow-col-icc = ICC
follow-too-few-players = zu wenige Spieler
follow-player-title = { $player }: Erfolgskontrolle
follow-working = Wirkt es?
follow-next-lesson = Die nächste Lektion ist { $due }.
follow-drafts = { $count ->
    [one] Eine Lektion ist entworfen und nicht freigegeben: Was sie aufgibt, zählt, wenn Sie sie freigeben.
   *[other] { $count } Lektionen sind entworfen und nicht freigegeben: Was sie aufgeben, zählt, wenn Sie sie freigeben.
}
follow-none-aimed = Keine Trainingsaufgabe mit einem Zielwert
follow-none-aimed-note = Eine Trainingsaufgabe zählt, wenn ihre Lektion freigegeben ist. Eine, die anderswo gegeben wurde, kann eingetragen werden:
follow-since = { $title }, seit dem { $day }
follow-write-letter = Fortschrittsbrief schreiben
follow-trends = Von Einheit zu Einheit
follow-trends-note = Jede Marke ist der Mittelwert der Schwünge einer Einheit, ihre Linie das 95-%-Intervall aus den Fehlern Ihres Aufbaus; kurze Striche sind einzelne Schwünge. Im schattierten Band ist eine Einheit vom Stand vorher nicht zu unterscheiden.
follow-up-is = Oben heißt { $plus }.
follow-up-and-down = Oben heißt { $plus }, unten { $minus }.
follow-to-reach = Ziel: { $goal }
follow-as-before = wie vorher: von { $low } bis { $high }
follow-other-view = { $count ->
    [one] { $count } in einer anderen Ansicht gemessener ist ausgelassen: Ansichten haben eigene Fehler.
   *[other] { $count } in einer anderen Ansicht gemessene sind ausgelassen: Ansichten haben eigene Fehler.
}
follow-as-table = Als Tabelle
follow-col-session = Einheit
follow-col-made = Schwünge waren
follow-col-mean = Mittel
follow-col-each = Jeder Schwung mit seinem eigenen ±
follow-draw-other = Eine andere Zahl zeichnen
follow-draw = Zeichnen
follow-made = Wie jeder Schwung gemacht wurde
follow-made-note = Nur Schwünge ohne den Merksatz, einen Tag später oder mehr, zeigen, was gelernt wurde. Kennzeichnen Sie sie, damit Üben nicht dafür gehalten wird. Eine Einheit sind die Schwünge eines Tages; geben Sie einen anderen Tag an, wo sie anderswo hingehören.
follow-day-added = (Tag der Aufnahme ins Studio; niemand hat gesagt, wann gefilmt wurde)
follow-swing-by-swing = Schwung für Schwung
follow-earlier = Frühere Trainingsaufgaben
follow-made-as = Gemacht als
follow-made-as-label = { $day }, { $label }: gemacht als
follow-session-of = Einheit vom
follow-session-of-label = { $day }, { $label }: Einheit eines anderen Tages
follow-mark-label = { $label } vom { $day } kennzeichnen
follow-mark = Kennzeichnen
follow-aim-from = von { $start } bis <strong>{ $goal }</strong>.
follow-aim = bis <strong>{ $goal }</strong>.
follow-change-note = Plus heißt auf den Zielwert zu; in Klammern das 95-%-Intervall. { $basis }. Mit diesen Schwüngen muss eine Änderung größer als { $mdc } sein, um von keiner unterschieden zu werden.
follow-guess = Beste Schätzung: mit { $likely } Wahrscheinlichkeit ging es auf den Zielwert zu, mit { $half } ist mindestens die Hälfte des Wegs geschafft.
follow-guess-chance = { $by } davon wären allein durch Zufall zu erwarten, weil die Zahl ausgewählt wurde, da sie weit draußen lag.
follow-kinds = Üben, Behalten und Übertragen
follow-col-since = Schwünge seither
follow-col-how-many = Wie viele
follow-col-before = Vorher
follow-col-after = Seither
follow-col-change = Änderung (95 %)
follow-col-so = Also
follow-could-tell = Eine weitere Einheit mit fünf Schwüngen könnte eine Änderung von { $least } von keiner unterscheiden.
follow-days = Tage bis zur nächsten Stunde (leer: { $usual })
follow-set = Setzen
follow-ended = Beendet am { $day }.
follow-go-on = Weitermachen
follow-end = Diese Trainingsaufgabe heute beenden
follow-counts = { $swings } in { $sessions }
follow-swings = { $count ->
    [one] 1 Schwung
   *[other] { $count } Schwünge
}
follow-sessions = { $count ->
    [one] 1 Einheit
   *[other] { $count } Einheiten
}
follow-players = { $count } Spieler
follow-basis = { $kind }: { $to }; vorher { $from }
follow-between = { $low } bis { $high }
follow-due-today = heute fällig, { $day }
follow-due-since = { $count ->
    [one] fällig seit dem { $day } (1 Tag)
   *[other] fällig seit dem { $day } ({ $count } Tage)
}
follow-due-on = { $count ->
    [one] fällig am { $day } (in 1 Tag)
   *[other] fällig am { $day } (in { $count } Tagen)
}
follow-without-number = Trainingsaufgabe ohne Zielwert
follow-nothing = Keine Trainingsaufgabe
follow-above = { $what }: über dem Bereich
follow-below = { $what }: unter dem Bereich
follow-names-more = { $names } und { $more } weitere
follow-fewer-than-one = weniger als eine
follow-about = etwa { $count }
follow-icc-retest = { $icc }; zwei Einheiten: { $agreement } ({ $low } bis { $high })
follow-swing = Schwung { $swing }
follow-not-marked = nicht gekennzeichnet
follow-practice = Üben: mit der Übung oder dem Merksatz
follow-retention = Behalten: einen Tag später oder mehr, ohne Merksatz
follow-transfer = Übertragen: Platz, Ball oder ein anderer Schläger
follow-counted-practice = beim Üben
follow-counted-unmarked = nicht gekennzeichnet
follow-counted-retention = Behalten
follow-counted-transfer = Übertragen
follow-step-film = zuerst filmen
follow-step-keep = bei der Übung bleiben
follow-step-progress = einen Schritt weitergehen
follow-step-change = Merksatz oder Übung wechseln
follow-place = { $measure }, { $moment }
follow-place-from = { $measure }, von { $against } bis { $moment }
follow-percent = { $percent } %
follow-percent-less = weniger als 1 %
follow-percent-more = mehr als 99 %
follow-toward = { $amount } ({ $interval })
follow-plus-minus = ± { $size }
follow-with-own = { $value } ± { $own }
follow-way = { $amount } ({ $way })
follow-first-practice = Beim Üben
follow-first-unmarked = Nicht gekennzeichnet
follow-first-retention = Behalten
follow-first-transfer = Übertragen
follow-first-film = Zuerst filmen
follow-first-keep = Bei der Übung bleiben
follow-first-progress = Einen Schritt weitergehen
follow-first-change = Merksatz oder Übung wechseln
follow-no-swing-after = Noch kein Schwung nach der Trainingsaufgabe hat diese Zahl.
follow-no-swing-before = Kein Schwung vor der Trainingsaufgabe hat diese Zahl: Filmen Sie zuerst einen Stand.
follow-away-in-practice = Das ist nur beim Üben zu sehen; ein neues Gefühl sieht anfangs oft schlechter aus. Filmen Sie einen Tag später ohne den Merksatz.
follow-wrong-way = Ohne den Merksatz geht es in die falsche Richtung.
follow-said-real = Die Änderung ist größer als der Fehler und geht auf den Zielwert zu ({ $kind }; { $swings } in { $sessions }; mit { $likely } Wahrscheinlichkeit darauf zu).
follow-said-not-yet = Die Änderung liegt innerhalb des Fehlers ({ $kind }; { $swings } in { $sessions }; mit { $likely } Wahrscheinlichkeit auf den Zielwert zu).
follow-said-away = Die Änderung ist größer als der Fehler und geht vom Zielwert weg ({ $kind }; { $swings } in { $sessions }; mit { $likely } Wahrscheinlichkeit auf ihn zu).
follow-not-reached = Der Zielwert ist noch nicht erreicht: Was wirkt, geht weiter.
follow-reached-with-cue = Der Zielwert ist mit dem Merksatz erreicht; ob es gelernt ist, zeigt sich einen Tag später ohne ihn.
follow-reached-unmarked = Der Zielwert ist erreicht (niemand hat gekennzeichnet, ob mit oder ohne Merksatz).
follow-reached-without-cue = Der Zielwert ist ohne den Merksatz erreicht.
follow-shows-elsewhere = Es zeigt sich auch bei einer anderen Aufgabe: Zeit für das Nächste.
follow-not-elsewhere = Bei einer anderen Aufgabe zeigt es sich noch nicht: Nehmen Sie die Übung dorthin mit.
follow-next-rung = Als Nächstes: die nächste Stufe der Übung, dann mit Ball, mit einem anderen Schläger, auf dem Platz.
follow-days-since = { $count ->
    [one] 1 Tag
   *[other] { $count } Tage
}
follow-early = Es ist noch früh: { $since } und { $sessions } seither; eine Übung bekommt { $trial } Tage und { $few } Einheiten.
follow-half-maybe = Die Hälfte des Wegs könnte geschafft sein (mit { $half } Wahrscheinlichkeit): Mehr Schwünge würden es zeigen.
follow-half-not-in-practice = Nicht einmal beim Üben ist die Hälfte des Wegs wahrscheinlich ({ $half }): Versuchen Sie zuerst den anderen Merksatz.
follow-half-unlikely = Sie hatte ihre Zeit, und die Hälfte des Wegs ist unwahrscheinlich ({ $half }): zuerst der andere Merksatz, dann eine andere Übung.
follow-left-out-without = { $count ->
    [one] 1 Schwung hat keine solche Zahl und ist ausgelassen.
   *[other] { $count } Schwünge haben keine solche Zahl und sind ausgelassen.
}
follow-left-out-view = { $count ->
    [one] 1 Schwung wurde in einer anderen Ansicht gemessen und ist ausgelassen: Ansichten haben eigene Fehler.
   *[other] { $count } Schwünge wurden in einer anderen Ansicht gemessen und sind ausgelassen: Ansichten haben eigene Fehler.
}
follow-day-assumed = { $count ->
    [one] 1 Schwung sagt nicht, wann er gefilmt wurde; er zählt nach dem Tag, an dem er dazukam.
   *[other] { $count } Schwünge sagen nicht, wann sie gefilmt wurden; sie zählen nach dem Tag, an dem sie dazukamen.
}
follow-too-soon = { $count ->
    [one] 1 als Behalten gekennzeichneter Schwung kam weniger als 24 Stunden nach dem Üben; er zählt als Üben.
   *[other] { $count } als Behalten gekennzeichnete Schwünge kamen weniger als 24 Stunden nach dem Üben; sie zählen als Üben.
}
follow-step-too-small = Der verlangte Schritt, { $step }, ist kleiner als das, was eine weitere Einheit mit { $swings } Schwüngen von keinem unterscheiden könnte, { $least }: Filmen Sie an mehreren Tagen.
follow-regression-unknown = Zu wenige Spieler, um zu sagen, was allein der Zufall zurückbringt, nachdem eine Zahl ausgewählt wurde, weil sie weit draußen lag (Regression zur Mitte).
follow-regression-as-much = Die Änderung ist größer als der Fehler, aber allein der Zufall könnte ebenso viel zurückbringen, nachdem eine Zahl ausgewählt wurde, weil sie weit draußen lag (Regression zur Mitte).
follow-one-swing-before = Der Stand vorher beruht auf einem Schwung.
