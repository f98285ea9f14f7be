# Film and send: the page that the player keeps on the phone. NAME, SIZE and WHY are filled in by its script.

send-title = Film and send: { $player }
send-heading = Film and send
send-keep = For { $player }. Keep this page on your phone. It works with no network and sends nothing by itself: it makes one file, and you send that file.
send-keep-for = For { $player }. Keep this page on your phone. It works with no network and sends nothing by itself: it makes one file, and you send that file to { $coach }.
send-film = 1. Film
send-film-says = Put the phone on a stand at hip height. All of you, the club and the ball must be in the picture. Film one swing from the front and one from behind, or only one of the two.
send-care = Warm up first. Look around: nobody may stand where the club swings or where the ball flies. Stop if anything hurts.
send-no-script = This page needs its script. Save it on your phone and open it in the phone's browser.
send-from-the-front = From the front (face-on)
send-from-behind = From behind (down the line)
send-answer = 2. Answer
send-pain = Does anything hurt?
send-no = No
send-yes = Yes
send-where = Where?
send-how-much = How much?
send-a-little = 1, a little
send-the-worst = 10, the worst
send-rest = Rest. If it does not go away, see a doctor before you swing again.
send-flight = How did the ball fly?
send-club = Which club?
send-cant-say = I can't say
send-feel = What did the swing feel like?
send-else = Anything else?
send-send = 3. Send
send-making = The file is being made
send-make = Make the file
send-ready = Your file is ready
send-share = Share it
send-save = Save it on this phone
send-then = Then send it by mail or messenger. It holds your films and your answers, nothing else.
send-then-to = Then send it by mail or messenger to { $coach }. It holds your films and your answers, nothing else.

# What its script says
send-no-film = Choose a film first: from the front, from behind, or both.
send-too-long = This film is too long. Cut it to a few swings.
send-same-twice = This is the same film twice. Choose the two films.
send-say-pain = Say first if anything hurts.
send-say-where = Say where it hurts.
send-unreadable = The films could not be read (WHY). Choose them again.
send-not-shared = Your phone would not share it. Save it, then send the saved file.
send-size = NAME, SIZE MB
send-decimal-mark = .

# Ball flights, as a player sees them
send-flight-straight = straight
send-flight-slice = bends far away from me (slice)
send-flight-hook = bends far back to me (hook)
send-flight-push = starts out away from me (push)
send-flight-pull = starts across me (pull)
send-flight-fat = ground before the ball (fat)
send-flight-thin = low, off the bottom of the club (thin)
send-flight-topped = rolls along the ground (topped)
send-flight-shank = shoots off the neck of the club (shank)

# Clubs
send-club-driver = driver
send-club-fairway-wood = fairway wood
send-club-hybrid = hybrid
send-club-long-iron = long iron
send-club-mid-iron = mid iron (5 to 7)
send-club-short-iron = short iron (8, 9)
send-club-wedge = wedge
