personal-none-form = Formular
personal-not-opened = Das Studio wurde nicht für Spieler geöffnet: siehe docs/personal-link.md.
personal-link-days = Ein Link gilt 1 bis { $most } Tage.

# Die eigene Seite eines Spielers: Lektionen
personal-your-lessons = Ihre Lektionen
personal-agree-first = Eine Lektion ist fertig. Willigen Sie zuerst <agreed>unten</agreed> ein, dass Ihre Lektionen auf diese Seite kommen.
personal-no-lesson = Noch keine. Eine Lektion ist hier, sobald { $who } sie gemacht und freigegeben hat.
personal-lesson-of = Lektion vom { $day }
personal-new = neu
personal-paper-of = Auf Papier (PDF): Lektion vom { $day }
personal-paper = auf Papier (PDF)
personal-film-of = Der Film (MP4): Lektion vom { $day }
personal-film = der Film (MP4)

# Filmen und schicken
personal-film-and-send = 1. Filmen und schicken
personal-hold = Das Handy wird <strong>hochkant und ruhig</strong> gehalten, so hoch wie Ihre Hüfte, etwa <strong>vier große Schritte</strong> entfernt.
personal-whole = <strong>Sie ganz und der Schläger</strong> sind in jedem Moment im Bild.
personal-one-swing = Ein Schwung pro Film. Vorher beginnen, danach aufhören.
personal-care = Wärmen Sie sich zuerst auf. Sehen Sie sich um: Niemand darf stehen, wo der Schläger schwingt oder der Ball fliegt. Hören Sie auf, wenn etwas schmerzt.
personal-face-on = Das Handy schaut auf Ihre Brust und Ihre Knöpfe.
personal-down-the-line = Das Handy steht hinter Ihren Händen und schaut dorthin, wohin der Ball fliegen wird.
personal-choose = Jetzt filmen oder einen Film auswählen
personal-closed-minor = Zuerst muss ein Sorgeberechtigter einwilligen, dass Sie gefilmt werden. Ihr Golflehrer trägt es ein.
personal-closed = Sie haben die Einwilligung zurückgenommen, gefilmt zu werden. Willigen Sie unten wieder ein, wenn Sie Videos schicken möchten.

# Die Fragen
personal-answer = 2. Antworten
personal-where-else = Wo noch?
personal-rest = Wenn etwas schmerzt, ruhen Sie sich aus. Geht es nicht weg, gehen Sie zum Arzt, bevor Sie wieder schwingen.
personal-send-answers = Antworten schicken
personal-how-much = Wie stark schmerzt es: { $area }? Wählen Sie 1 bis 10.
personal-which-is-it = Sie haben gewählt, dass nichts schmerzt, und eine Stelle, die schmerzt: Was stimmt?
personal-choose-pain = Schmerzt etwas? Wählen Sie Ja oder Nein.
personal-too-long = Ein Text ist zu lang: Er darf höchstens zweitausend Zeichen haben.

# Einwilligungen
personal-agreements = Worin Sie einwilligen
personal-minor = Sie sind noch nicht volljährig: Ein Sorgeberechtigter willigt ein, und { $who } trägt es ein.
personal-each-apart = Jedes für sich. Sie können jedes hier jederzeit zurücknehmen. Mit der Einwilligung sagen Sie, dass Sie { $name } und mindestens 18 Jahre alt sind.
personal-filming = Meine Filme werden im Studio aufbewahrt.
personal-teaching = Mein Schwung wird gemessen, damit ich unterrichtet werden kann.
personal-sending = Meine Lektionen mit Bildern von mir kommen auf diese Seite.
personal-agreed = eingewilligt
personal-not-agreed = nicht eingewilligt
personal-take-back = Zurücknehmen
personal-take-back-what = Zurücknehmen: { $what }
personal-agree = Ich willige ein
personal-agree-what = Ich willige ein: { $what }
personal-choose-what = Wählen Sie, worin Sie einwilligen.
personal-guardian-agrees = Ein Sorgeberechtigter willigt ein, zusammen mit Ihrem Golflehrer.
personal-choose-button = Wählen Sie eine der Schaltflächen.

# E-Mail
personal-by-mail = Nachricht per E-Mail
personal-mail-goes = Wenn eine Lektion hier ist, geht eine E-Mail an <strong>{ $address }</strong>. Sie sagt nur das.
personal-no-more-mail = Keine E-Mails mehr schicken
personal-mail-address = E-Mail-Adresse
personal-tell-me = Schreiben Sie mir, wenn eine Lektion hier ist. Die E-Mail sagt nur das.
personal-keep = Speichern
personal-guardian-told = Ihr Golflehrer benachrichtigt Ihren Sorgeberechtigten.
personal-tick-mail = Kreuzen Sie an, dass Sie per E-Mail benachrichtigt werden möchten.
personal-no-address = Das ist keine E-Mail-Adresse. Sehen Sie noch einmal nach.

# Um die Seite herum
personal-yours-alone = Diese Seite gehört Ihnen allein: Wer ihre Adresse hat, kann Ihre Lektionen sehen und in Ihrem Namen Filme schicken. Behalten Sie sie für sich. Sie endet am { $ends } oder wenn { $who } sie zurückzieht.
personal-professional = Ihr Golflehrer
personal-done-clips = Ihre Videos sind angekommen. Beantworten Sie nun die Fragen, wenn Sie es noch nicht getan haben.
personal-done-answers = Ihre Antworten sind angekommen.
personal-done-agreed = Das ist notiert.
personal-done-mail = Das ist notiert. Sie können es jederzeit ändern.
personal-clip-too-large = Ein Video darf hier höchstens { $most } MB haben: Filmen Sie einen Schwung oder schneiden Sie ihn heraus.
personal-many-wait = Viele Ihrer Videos sind noch nicht angesehen. Schicken Sie weitere, wenn das geschehen ist.
personal-choose-first = Wählen Sie zuerst einen Film.
personal-too-many-clips = Über diesen Link kamen mehr Videos, als an einem Tag angenommen werden.

# Was geschickt wurde
personal-you-sent = Was Sie geschickt haben
personal-nothing-sent = Noch nichts. Was Sie schicken, steht hier, und wie weit es ist.
personal-swing-of = Ihr Schwung vom { $day }:
personal-unusable = nicht nutzbar
personal-not-measured = ließ sich nicht messen; { $who } sieht es sich an
personal-being-measured = wird gemessen, das dauert einige Minuten
personal-arrived = ist angekommen und wird geöffnet
personal-aside = wurde beiseitegelegt
personal-has-it = { $who } hat es und sieht es sich an
personal-lesson-ready = Ihre Lektion ist fertig
personal-needs-none = { $who } hat es angesehen; eine Lektion ist nicht nötig
personal-looking = ist gemessen; { $who } sieht es sich gerade an

# An der Tür
personal-opens-nothing = Dieser Link öffnet nichts
personal-opens-nothing-note = Vielleicht ist er abgelaufen, oder ein Teil davon fehlt. Öffnen Sie ihn noch einmal so, wie er Ihnen geschickt wurde, oder bitten Sie Ihren Golflehrer um einen neuen.
personal-a-lot = Das ist viel auf einmal
personal-a-lot-note = Über diesen Link kam mehr, als an einem Tag angenommen wird. Was angekommen ist, ist sicher. Versuchen Sie es morgen wieder oder schreiben Sie Ihrem Golflehrer.
personal-not-here = Das ist nicht hier
personal-not-here-note = Es ist noch nicht fertig oder nicht mehr hier. Gehen Sie zurück auf Ihre Seite und sehen Sie dort nach.
personal-went-wrong = Hier ist etwas schiefgegangen
personal-went-wrong-note = Es liegt nicht an Ihnen, und was Sie geschickt haben, ist sicher. Versuchen Sie es in ein paar Minuten wieder.
personal-other-name = Diese Tür hat einen anderen Namen
personal-other-name-note = Öffnen Sie Ihren Link noch einmal so, wie er Ihnen geschickt wurde.
personal-elsewhere = Das kam nicht von Ihrer Seite
personal-elsewhere-note = Öffnen Sie Ihre Seite noch einmal und drücken Sie dort auf die Schaltfläche.

# Die Seite des Golflehrers zu einem Link
personal-link-of = Persönlicher Link von { $name }
personal-link = Persönlicher Link
personal-link-what = Damit schickt { $name } von überall Videos und Antworten, sieht, wie weit sie sind, und findet jede Lektion, die Sie freigegeben haben. Sonst ist darüber nichts vom Studio zu erreichen.
personal-the-link = Der Link
personal-shown-once = Schicken Sie ihn an { $name } oder lassen Sie das Handy den QR-Code lesen. Er wird <strong>nur einmal gezeigt</strong>, da nur sein Hash gespeichert ist, und gilt bis { $ends }.
personal-address = Adresse
personal-copy = Kopieren
personal-s-copied = Kopiert
personal-s-copy-now = Ausgewählt: Kopieren Sie die Adresse jetzt
personal-not-open = Das Studio wurde nicht für Spieler geöffnet. Schließen Sie es und öffnen Sie es mit <code>lessonwright open --players ADDRESS:PORT --address https://HOST/</code> auf einem Rechner, den Spieler erreichen.
personal-lives-until = Ein Link gilt bis { $ends }.
personal-none-living = { $name } hat keinen Link.
personal-days = Gilt so viele Tage
personal-make = Link erstellen
personal-make-another = Weiteren Link erstellen
personal-withdraw = Link zurückziehen
personal-withdraw-all = Alle Links zurückziehen
personal-told-at = { $name } möchte an { $address } benachrichtigt werden, wenn eine Lektion da ist.
personal-came = Was kam
personal-in-tray = { $count ->
    [one] 1 Video im Eingang
   *[other] { $count } Videos im Eingang
}
personal-no-answers = Noch keine Antworten.
personal-hurts-note = { $pain }. Zu den Antworten vor einer Trainingsaufgabe notiert: Sprechen Sie mit { $name }, bevor Sie eine Lektion freigeben.
personal-ball = Ball: { $flight }
personal-club = Schläger: { $club }
personal-felt = Gefühl: { $feel }
personal-have-read = Ich habe die Antworten gelesen
personal-pain = { $area } { $strength } von { $strongest }
personal-it-hurts = es schmerzt: { $pains }
personal-nothing-hurts = nichts schmerzt
personal-pain-unanswered = die Frage nach Schmerzen wurde nicht beantwortet

# Auf der Seite Heute
personal-by-players = Von Spielern geschickt
personal-mail-stuck = Eine E-Mail ging nicht hinaus: <log>{ $why }</log>
personal-waited = wartet seit { $waited }
personal-answers = Antworten
personal-answers-say = Antworten: { $says }
personal-clips = { $count ->
    [one] ein Video
   *[other] { $count } Videos
}

# E-Mails
personal-mail-came = { $name } hat etwas geschickt
personal-mail-came-text = { $name } hat über den persönlichen Link etwas geschickt.
personal-mail-came-where = Es steht im Studio auf der Seite Heute.
personal-mail-lesson = Ihre Lektion ist da
personal-mail-lesson-text = Eine Lektion ist auf Ihrer Seite.
personal-mail-lesson-from = Eine Lektion von { $from } ist auf Ihrer Seite.
personal-mail-lesson-where = Öffnen Sie Ihre Seite mit dem Link, den Sie bekommen haben. Er steht nicht in dieser E-Mail, damit niemand sonst sie öffnen kann.
personal-mail-lesson-agreed = Sie haben eingewilligt, benachrichtigt zu werden. Auf Ihrer Seite können Sie das zurücknehmen.
personal-mail-test = Das Studio kann E-Mails schicken
personal-mail-test-text = Der Mailserver des Studios ist richtig eingestellt.
