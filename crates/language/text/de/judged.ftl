# Warum ein Schwung so beurteilt wird, für den Lehrer: die Schritte der Regel, was sie ändern würde, Anmerkungen.

# Warum etwas steht, wo es steht
judged-measured = Gemessen: Das nähere Ende seines ± liegt { $widths } halbe Breiten außerhalb des Bereichs: zählt { $counts } von 1.
judged-measured-and-seen = Gemessen: Das nähere Ende seines ± liegt { $widths } halbe Breiten außerhalb des Bereichs, und der Lehrer hat es gesehen: zählt { $counts } von 1.
judged-seen = Vom Lehrer gesehen (wie { $widths } halbe Breiten außerhalb): zählt { $counts } von 1.
judged-seen-inside = Vom Lehrer gesehen, obwohl der Messwert nicht klar außerhalb seines Bereichs liegt (wie { $widths } halbe Breiten außerhalb): zählt { $counts } von 1.
judged-flight = Ballflug: { $roads }: zählt { $counts }.
judged-road-often = ein Weg zum genannten Ballflug ({ $flight }), über „{ $club }“ (Stufe { $grade }, oft genannt)
judged-road-sometimes = ein Weg zum genannten Ballflug ({ $flight }), über „{ $club }“ (Stufe { $grade }, manchmal genannt)
judged-no-road = kein Weg zum genannten Ballflug ({ $flight }; { $counts })
judged-flight-content = Ballflug: wie gewünscht, er unterscheidet sie also nicht: zählt { $counts }.
judged-flight-none = Ballflug: keiner genannt, der weiterhilft: zählt { $counts }.
judged-set-up = Ansprechen, das zuerst angesehen wird: mal { $times }.
judged-goal = Dient einem Ziel des Spielers ({ $goal }): mal { $times }.
judged-limit = Eine Grenze des Spielers ({ $limit }): mal { $times }.
judged-received = Führt zu „{ $fact }“ und nimmt { $part } von dessen Gewicht.
judged-handed = Folgt aus „{ $fact }“, das { $part } von seinem Gewicht nimmt.
judged-weight = Gewicht { $weight } von insgesamt { $sum }, davon { $unseen } für das, was niemand gesehen hat: { $percent } %.

# Warum es hinter dem Ersten steht
judged-not-before = Nicht vor „{ $fact }“: { $reason }.
judged-it-follows = Es folgt daraus, und am Anfang einer Kette wird zuerst gearbeitet
judged-likelier = Das ist der wahrscheinlichere Weg zum genannten Ballflug ({ $flights })
judged-set-up-first = Das gehört zum Ansprechen und wird zuerst angesehen
judged-clearer = Das zeigt sich deutlicher
judged-more-follows = Mehr von dem, was gefunden wurde, folgt daraus
judged-body-allows = Der Körper des Spielers erlaubt das leichter
judged-serves-goal = Das dient dem Ziel des Spielers
judged-follows-other = Dieses folgt aus etwas anderem, das gefunden wurde
judged-no-difference = Nichts unterscheidet sie; jenes kommt im Schwung früher

# Warum es nicht in der Reihenfolge steht
judged-excluded = Ausgelassen wegen einer Grenze des Spielers: { $limit }.
judged-last-resort = Eine Streuung unter Spielern und kein Ziel: nur eine Wahl, wenn sonst nichts gefunden wird.
judged-content = Der Ball fliegt wie gewünscht, und kein Messwert zeigt das wenigstens { $widths } halbe Breiten außerhalb seines Bereichs.

# Was es ändern würde
judged-edge = Kommt ein anderer Schwung auf sein ± an { $edge } heran, würden wir etwas anderes wählen.
judged-flight-untold = Der übliche Ballflug wurde nicht genannt; einer mit anderer Ursache würde die Reihenfolge ändern.
judged-flight-unclear = „{ $said }“ wurde nicht als Ballflug verstanden; sagen Sie es in einem Wort, etwa Slice, Pull, Push, Hook, fett oder dünn.
judged-flies-as-wanted = Der Ball fliegt schon wie gewünscht: Fragen Sie zuerst, ob eine Änderung lohnt.
judged-missing = In diesem Schwung nicht gemessen: { $measures }. Läge es daneben, würden wir dort beginnen.
judged-unclear = Außerhalb des Bereichs, aber nicht weiter als das ±: { $measures }. Ein zweites Video könnte es zur Auffälligkeit machen.
judged-unlooked = Vom Ansprechen wurde nichts angekreuzt; achten Sie zuerst darauf: { $facts }.
judged-next = Als Nächstes: { $fact } ({ $percent } %).
judged-what-where = { $measure } { $when } (zu sehen { $view })

# Anmerkungen
judged-trade = { $trade } 95-%-Intervall { $interval }; { $widths } halbe Breiten außerhalb am näheren Ende.
judged-source = { $from } → { $to }: Stufe { $grade }. { $source }
judged-source-none = { $from } → { $to }: Stufe { $grade }.
judged-source-body = Konsens unter Lehrern: Das eine folgt aus dem anderen.
judged-small-step = Der Schritt von { $step } ist kleiner als die { $detectable }, die ein Video gegen ein anderes zeigen kann: Vergleichen Sie mehrere Schwünge.
judged-chosen-gone = Gewählt war { $fact }; das wird nicht mehr gefunden: Es bleibt beim Vorschlag.
judged-chosen = Vom Lehrer gewählt: { $fact }; vorgeschlagen war: { $proposed }.
judged-chosen-because = Vom Lehrer gewählt: { $fact }; vorgeschlagen war: { $proposed }. Weil: { $why }
judged-no-change = keine Änderung
judged-no-drill = Keine Übung bleibt: Jede zu diesem Punkt würde den genannten Ballflug fördern oder ist nichts für eine Grenze dieses Spielers. Legen Sie eine eigene an (`lessonwright drills`).
judged-no-finding = Keine Auffälligkeit: Kein 95-%-Intervall liegt ganz außerhalb seines Bereichs.
judged-no-priority = Nichts, woran zu arbeiten ist: Nichts Gefundenes erklärt den genannten Ballflug, oder der stört nicht und nichts liegt { $widths } halbe Breiten oder mehr außerhalb seines Bereichs.
judged-lowered = Umfang verringert: { $because }.
judged-withheld = Die Regeln der Gesundheitsfragen geben keine Übung. Hat ein Arzt oder Physiotherapeut zugestimmt, tragen Sie bei den Antworten ein, wer und wann (eine Gesundheitsnotiz beginnt mit „cleared“); dann wird der Umfang verringert, außer bei Warnzeichen und starkem Schmerz.
judged-unused = Nicht verwendet: { $problem }.

# Was gefragt werden muss, bevor etwas aufgegeben wird
judged-ask-never = Nach Schmerzen, Verletzungen, Operationen und Medikamenten wurde nicht gefragt: Fragen Sie, bevor etwas aufgegeben wird.
judged-ask-old = Die Antworten zu Schmerzen, Verletzungen, Operationen und Medikamenten sind { $days } Tage alt: Fragen Sie noch einmal, bevor etwas aufgegeben wird.
judged-ask-age = Das Alter des Spielers ist nicht bekannt: Fragen Sie danach, denn Junioren und Senioren üben weniger.

# Warum es keinen Übungsplan gibt
judged-no-plan-nothing = Die Lektion gibt keine Übung auf, es gibt also nichts zu üben
judged-no-plan-not-for = Die Übung „{ $drill }“ ist nichts für das, was der Spieler seit dem Entwurf gesagt hat: Lassen Sie die Lektion neu entwerfen
judged-no-plan-gone = Die Übung „{ $drill }“ ist nicht mehr in der Übungssammlung: Lassen Sie die Lektion neu entwerfen
judged-no-plan-time = Die nächste Stunde muss nach dem ersten Übungstag liegen
judged-no-plan-far = Höchstens { $weeks } Wochen werden auf einmal geplant: Setzen Sie eine frühere Stunde oder Kontrolle an
judged-no-plan-day = Keiner der gewählten Tage liegt vor der nächsten Stunde: Wählen Sie andere Tage oder mehr davon
judged-no-plan-minutes = Geben Sie { $fewest } bis { $most } Minuten je Einheit an, nicht { $minutes }
