# Film and send: the page that the player keeps on the phone. NAME, SIZE and WHY are filled in by its script.

send-title = Filmen und schicken: { $player }
send-heading = Filmen und schicken
send-keep = Für { $player }. Behalten Sie diese Seite auf Ihrem Handy. Sie braucht kein Netz und schickt nichts von selbst: Sie macht eine Datei, und die schicken Sie.
send-keep-for = Für { $player }. Behalten Sie diese Seite auf Ihrem Handy. Sie braucht kein Netz und schickt nichts von selbst: Sie macht eine Datei, und die schicken Sie an { $coach }.
send-film = 1. Filmen
send-film-says = Stellen Sie das Handy in Hüfthöhe auf ein Stativ. Sie ganz, der Schläger und der Ball müssen im Bild sein. Filmen Sie einen Schwung von vorn und einen von hinten oder nur einen der beiden.
send-care = Wärmen Sie sich zuerst auf. Sehen Sie sich um: Niemand darf stehen, wo der Schläger schwingt oder der Ball fliegt. Hören Sie auf, wenn etwas schmerzt.
send-no-script = Diese Seite braucht ihr Skript. Speichern Sie sie auf Ihrem Handy und öffnen Sie sie im Browser des Handys.
send-from-the-front = Von vorn
send-from-behind = Von hinten (entlang der Ziellinie)
send-answer = 2. Antworten
send-pain = Schmerzt etwas?
send-no = Nein
send-yes = Ja
send-where = Wo?
send-how-much = Wie stark?
send-a-little = 1, ein wenig
send-the-worst = 10, am stärksten
send-rest = Ruhen Sie sich aus. Geht es nicht weg, gehen Sie zum Arzt, bevor Sie wieder schwingen.
send-flight = Wie flog der Ball?
send-club = Welcher Schläger?
send-cant-say = Kann ich nicht sagen
send-feel = Wie hat sich der Schwung angefühlt?
send-else = Sonst noch etwas?
send-send = 3. Schicken
send-making = Die Datei wird gemacht
send-make = Datei machen
send-ready = Ihre Datei ist fertig
send-share = Teilen
send-save = Auf diesem Handy speichern
send-then = Dann schicken Sie sie per E-Mail oder Messenger. Sie enthält Ihre Filme und Ihre Antworten, sonst nichts.
send-then-to = Dann schicken Sie sie per E-Mail oder Messenger an { $coach }. Sie enthält Ihre Filme und Ihre Antworten, sonst nichts.

# What its script says
send-no-film = Wählen Sie zuerst einen Film: von vorn, von hinten oder beide.
send-too-long = Dieser Film ist zu lang. Kürzen Sie ihn auf ein paar Schwünge.
send-same-twice = Das ist zweimal derselbe Film. Wählen Sie die beiden Filme.
send-say-pain = Sagen Sie zuerst, ob etwas schmerzt.
send-say-where = Sagen Sie, wo es schmerzt.
send-unreadable = Die Filme waren nicht zu lesen (WHY). Wählen Sie sie noch einmal.
send-not-shared = Ihr Handy konnte sie nicht teilen. Speichern Sie sie und schicken Sie die gespeicherte Datei.
send-size = NAME, SIZE MB
send-decimal-mark = ,

# Ball flights, as a player sees them
send-flight-straight = gerade
send-flight-slice = dreht weit von mir weg (Slice)
send-flight-hook = dreht weit zu mir zurück (Hook)
send-flight-push = startet von mir weg (Push)
send-flight-pull = startet vor mir herüber (Pull)
send-flight-fat = Boden vor dem Ball (fett)
send-flight-thin = flach, von der Unterkante (dünn)
send-flight-topped = rollt am Boden (getoppt)
send-flight-shank = schießt vom Hals des Schlägers weg (Socket)

# Clubs
send-club-driver = Driver
send-club-fairway-wood = Fairwayholz
send-club-hybrid = Hybrid
send-club-long-iron = langes Eisen
send-club-mid-iron = mittleres Eisen (5 bis 7)
send-club-short-iron = kurzes Eisen (8, 9)
send-club-wedge = Wedge
