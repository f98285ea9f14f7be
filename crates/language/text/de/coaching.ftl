# What the coaching says to a player in sentences of its own; the trade's words are data (crates/coaching/data).

# Between the last two of a list
coaching-and = { $first } und { $last }

# Numbers: a length in both units, a band
coaching-length = { $cm } cm ({ $inches } Zoll)
coaching-band = { $low } bis { $high }
coaching-in-front = { $amount } vor
coaching-behind = { $amount } hinter

# How the check is filmed
coaching-film-face-on = Filmen Sie von vorn: das Handy aufrecht auf einem Stativ in Hüfthöhe, 4 bis 5 m von Ihnen, gegenüber der Mitte Ihres Standes und quer zur Ziellinie.
coaching-film-down-the-line = Filmen Sie entlang der Ziellinie: das Handy aufrecht auf einem Stativ in Hüfthöhe, 4 bis 5 m hinter Ihnen auf der Linie Ihrer Hände, mit Blick zum Ziel. Legen Sie einen Stab entlang der Ziellinie auf den Boden, dem Schläger nicht im Weg: Im Bild muss er gerade nach oben zeigen.
coaching-film = { $place } Der ganze Körper und der Schläger sind im Bild, in Zeitlupe, wenn das Handy sie hat (120 Bilder in der Sekunde oder mehr). Drei Schwünge mit demselben Schläger wie heute, von derselben Stelle. Die Zahl, die Sie erreichen wollen: { $aim }. Eine Änderung, die kleiner ist als das ±, ist noch keine: Vergleichen Sie den mittleren der drei.
coaching-aim-hips = Hüfte { $number } ({ $when })
coaching-aim-knees = Knie { $number } als in der Ansprechposition ({ $when })
coaching-aim-elbow = { $trail }er Ellbogen { $number } der Mitte Ihrer { $trail }en Seite ({ $when })
coaching-aim = { $measure } { $number } ({ $when })
coaching-look = Keine Kamera misst das: Sehen Sie hin. { $checkpoint } Machen Sie heute ein Bild davon und eines in einer Woche, von derselben Stelle, und legen Sie beide nebeneinander.

# How much
coaching-dose = { $rounds } { $rounds ->
    [one] Runde
   *[other] Runden
} mit { $swings }, an { $days } { $days ->
    [one] Tag
   *[other] Tagen
} in der Woche: { $how }. Zwischen den Runden { $rest } Sekunden Pause.
coaching-dose-lowered = { $dose } Das ist weniger als üblich ({ $because }).
coaching-dose-none = Nichts, bis ein Arzt zugestimmt hat.
coaching-because-cleared = ein Arzt hat zugestimmt
coaching-because-not-asked = noch nicht nach der Gesundheit gefragt
coaching-because-chosen = so von Ihrem Golflehrer gewählt
coaching-because-junior = Jugend
coaching-because-age = Alter { $age }
coaching-because-pain = Schmerz von { $strength } von { $most }
# The rule's key is an English word: that there is one is enough
coaching-because-warning-signs = Warnzeichen
coaching-because-injury = Verletzung
coaching-because-surgery = Operation
coaching-because-condition = Erkrankung
coaching-because-balance-medicine = Medikamente, die das Gleichgewicht stören
coaching-because-other = anderes
coaching-because-rule = eine Antwort zur Gesundheit{ $rule ->
   *[other] {""}
}

# Cautions
coaching-caution-tell = Sagen Sie vor dem ersten Schwung Ihrem Golflehrer, ob Sie Schmerzen, eine Verletzung oder eine Operation haben; dann gehen Sie zuerst zum Arzt.
coaching-caution-cleared = Halten Sie sich an das, was Ihr Arzt erlaubt hat; es geht dieser Seite vor.
coaching-caution-age = Das Alter wurde nicht gesagt: Ein Kind oder ein älterer Spieler macht die Hälfte.
coaching-caution-warm-up = Wärmen Sie sich fünf bis zehn Minuten auf: gehen, drehen und locker schwingen, bevor der erste Ball kommt.
coaching-caution-stop = Hören Sie sofort auf bei neuem, scharfem oder ausstrahlendem Schmerz, Taubheit, Schwäche, Schwindel oder Schmerz in der Brust. Gehen Sie zum Arzt, bevor Sie weitermachen.
coaching-caution-look-round = Sehen Sie sich vor jedem Schwung um: niemand und nichts in Reichweite des Schlägers, niemand in der Linie des Balls oder davor.
coaching-caution-phone = Stellen Sie das Handy auf ein Stativ; niemand hält es nahe am Schwung oder steht dort, wo ein Fehlschlag hinfliegen könnte.
coaching-caution-rules = Die Regeln Ihrer Driving Range, Ihres Platzes oder Hauses und der Rat Ihres Arztes gehen dieser Seite vor.
coaching-told = Sie haben uns von Schmerzen, einer Verletzung oder einer Operation erzählt. Bitte gehen Sie zum Arzt, bevor Sie üben.
coaching-withheld = { $because } Darum gibt diese Seite keine Übung und keine Zahl, die Sie erreichen sollen. Was gemessen wurde, ist gezeigt, damit Ihr Golflehrer hier weitermachen kann, sobald ein Arzt zugestimmt hat.

# Where nothing is to be changed, or no drill is left
coaching-no-drill = Keine Übung des Buchs passt dafür zu Ihnen: Ihr Golflehrer zeigt Ihnen eine.
coaching-chosen-nothing = Vorerst keine Änderung: Ihr Golflehrer hat Ihren Schwung angesehen und lässt ihn, wie er ist.
coaching-nothing-measured = Wir raten zu keiner Änderung: In diesem Schwung konnte nichts gemessen werden. Filmen Sie ihn noch einmal, mit dem ganzen Körper im Bild und dem Handy quer zur Ziellinie oder auf ihr.
coaching-flies-as-wanted = Wir raten zu keiner Änderung: Der Ball fliegt, wie Sie es wollen, und keine Zahl liegt so weit außerhalb des Bereichs, dass wir daran rühren.
coaching-nothing-outside = Wir raten zu keiner Änderung: Keine Zahl liegt hier deutlich außerhalb des Bereichs, den wir suchen.
coaching-nothing-explains = Wir raten nach diesen Zahlen zu keiner Änderung: Keine, die deutlich außerhalb des Bereichs liegt, erklärt den Ballflug ({ $flights }). Sehen Sie zuerst Griff, Ausrichtung, Ballposition, Schlagfläche und Treffer an; das sehen die Kameras nicht gut genug.

# The chain from body to ball
coaching-not-the-flight = nicht: { $flights }
coaching-does-not-explain = Es erklärt allein nicht den Ballflug, von dem Sie erzählen: { $flights }.
coaching-goes-with = Ballflüge, die dazu gehören: { $flights }.

# A drill of the professional's own that has no words in this language
coaching-drill-not-worded = Diese Übung gibt es noch nicht auf Deutsch. { $changes }

# Why there is less practice than could be
coaching-season-playing = Auch Runden sind Schwünge: höchstens drei Viertel des üblichen Höchstmaßes.
coaching-season-returning = Zurück nach einer langen Pause: höchstens die Hälfte des üblichen Höchstmaßes.

# Blocks of a session
coaching-warm-up = Gehen, drehen und schwingen Sie locker; die ersten Schwünge sind klein und langsam.
coaching-check = Vor allem anderen: Filmen Sie { $swings } volle Schwünge mit dem Schläger der Lektion. Wie, und welche Zahl Sie erreichen wollen, steht unter „Die Prüfung“. Schicken Sie sie oder vergleichen Sie den mittleren.
coaching-check-look = Sehen Sie hin, wenn alle drei gefilmt sind.
coaching-look-each-round = Prüfen Sie sich nach jeder Runde, nicht nach jedem Schwung.
coaching-look-last-round = Prüfen Sie sich nur nach der letzten Runde.
coaching-mixed-home = Jeder Schwung ein anderer Schlag im Kopf: flach, hoch, links, rechts, kurz, lang.
coaching-mixed-mat = Bei jedem Ball ein anderer Schläger: kurzes Eisen, langer Schläger, mittleres Eisen, und wieder von vorn.
coaching-mixed-range = Bei jedem Ball ein anderer Schläger und ein anderes Ziel: kurzes Eisen nah, langer Schläger weit, mittleres Eisen dazwischen; nie zweimal dasselbe nacheinander.
coaching-mixed-course = Legen Sie Bälle an verschiedene Stellen, nie zwei an eine: bergauf, bergab, kurzes Gras, langes Gras.
coaching-mixed-game = { $mixed } Machen Sie ein Spiel daraus: ein Punkt für jeden, der tut, was Sie angesagt haben.
coaching-mixed-look = Wohin er geht, genügt; kein Film.
coaching-as-played = Ein Ball nach dem anderen mit Ihrem ganzen Ablauf, jeder zu einem eigenen Ziel. Der Merksatz bleibt in der Tasche: Denken Sie an das Ziel.
coaching-as-played-look = Sehen Sie auf nichts, bis alle { $swings } geschlagen sind; dann zählen Sie, wie viele taten, was Sie wollten.

# A band and what is doubtful about it
coaching-cited = { $source } Zweifel: { $doubt }

# Ball flights
coaching-flight-straight = gerader Ball
coaching-flight-fade = Fade
coaching-flight-draw = Draw
coaching-flight-slice = Slice
coaching-flight-hook = Hook
coaching-flight-pull = Pull
coaching-flight-pull-slice = Pull-Slice
coaching-flight-pull-hook = Pull-Hook
coaching-flight-push = Push
coaching-flight-push-slice = Push-Slice
coaching-flight-push-hook = Push-Hook
coaching-flight-fat = fetter Schlag
coaching-flight-thin = dünner Schlag
coaching-flight-top = getoppter Ball
coaching-flight-shank = Socket
coaching-flight-toe = Spitzentreffer
coaching-flight-heel = Fersentreffer
coaching-flight-sky = Kerze
coaching-flight-high = hoher, kurzer Flug
coaching-flight-low = flacher Flug
