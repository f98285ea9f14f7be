personal-none-form = form
personal-not-opened = The studio was not opened for players: see docs/personal-link.md.
personal-link-days = A link lives from 1 to { $most } days.

# A player's own page: lessons
personal-your-lessons = Your lessons
personal-agree-first = A lesson is ready. Agree first, <agreed>below</agreed>, that your lessons are put on this page.
personal-no-lesson = None yet. A lesson is here as soon as { $who } has made and approved it.
personal-lesson-of = Lesson of { $day }
personal-new = new
personal-paper-of = On paper (PDF): lesson of { $day }
personal-paper = on paper (PDF)
personal-film-of = The film (MP4): lesson of { $day }
personal-film = the film (MP4)

# Filming and sending
personal-film-and-send = 1. Film and send
personal-hold = Hold the phone <strong>upright and still</strong>, as high as your waist, about <strong>four big steps</strong> away.
personal-whole = <strong>All of you and the club</strong> are in the picture at every moment.
personal-one-swing = One swing a film. Begin before it, stop after it.
personal-care = Warm up first. Look around: nobody may stand where the club swings or where the ball flies. Stop if anything hurts.
personal-face-on = The phone looks at your chest and buttons.
personal-down-the-line = The phone stands behind your hands and looks the way the ball will fly.
personal-choose = Film it now or choose a film
personal-closed-minor = A guardian has to agree first that you are filmed. Your professional notes it.
personal-closed = You took back that you are filmed. Agree again below if you want to send clips.

# The questions
personal-answer = 2. Answer
personal-where-else = Where else?
personal-rest = If it hurts, rest. If it does not go away, see a doctor before you swing again.
personal-send-answers = Send the answers
personal-how-much = How much does it hurt: { $area }? Choose 1 to 10.
personal-which-is-it = You chose that nothing hurts, and a place that hurts: which is it?
personal-choose-pain = Does anything hurt? Choose yes or no.
personal-too-long = A text is too long: two thousand letters are taken at most.

# What is agreed to
personal-agreements = What you agree to
personal-minor = You are not of age: a guardian agrees, together with { $who }.
personal-each-apart = Each thing apart. You can take each back here at any time. Agreeing, you say that you are { $name } and 18 or older.
personal-filming = My films are kept by the studio.
personal-teaching = My swing is measured, so that I can be taught.
personal-sending = My lessons, with pictures of me, are put on this page.
personal-agreed = agreed
personal-not-agreed = not agreed
personal-take-back = Take it back
personal-take-back-what = Take it back: { $what }
personal-agree = I agree
personal-agree-what = I agree: { $what }
personal-choose-what = Choose what you agree to.
personal-guardian-agrees = A guardian agrees, with your professional.
personal-choose-button = Choose one of the buttons.

# E-mail
personal-by-mail = Told by e-mail
personal-mail-goes = When a lesson is here, an e-mail goes to <strong>{ $address }</strong>. It says only that.
personal-no-more-mail = Send me no more e-mail
personal-mail-address = E-mail address
personal-tell-me = Tell me when a lesson is here. The e-mail says only that.
personal-keep = Keep
personal-guardian-told = Your professional tells your guardian.
personal-tick-mail = Tick that you want to be told by e-mail.
personal-no-address = That is no e-mail address. Look at it again.

# Around the page
personal-yours-alone = This page is yours alone: whoever has its address can see your lessons and send films in your name. Keep it to yourself. It ends on { $ends }, or when { $who } withdraws it.
personal-professional = your professional
personal-done-clips = Your clips have arrived. Now answer the questions, if you have not yet.
personal-done-answers = Your answers have arrived.
personal-done-agreed = That is noted.
personal-done-mail = That is noted. You can change it at any time.
personal-clip-too-large = A clip may have { $most } MB here at most: film one swing, or cut it out.
personal-many-wait = Many of your clips wait to be looked at. Send more when they were.
personal-choose-first = Choose a film first.
personal-too-many-clips = More clips came by this link than are taken in a day.

# What was sent
personal-you-sent = What you sent
personal-nothing-sent = Nothing yet. What you send is listed here, with how far it is.
personal-swing-of = Your swing of { $day }:
personal-unusable = it can't be used
personal-not-measured = it could not be measured; { $who } will look at it
personal-being-measured = it is being measured, which takes some minutes
personal-arrived = it has arrived and is being opened
personal-aside = it was put aside
personal-has-it = { $who } has it and will look at it
personal-lesson-ready = your lesson is ready
personal-needs-none = { $who } looked at it; it needs no lesson
personal-looking = it is measured; { $who } is looking at it

# At the door
personal-opens-nothing = This link does not open anything
personal-opens-nothing-note = It may have ended, or part of it is missing. Open it again as it was sent to you, or ask your professional for a new one.
personal-a-lot = That is a lot at once
personal-a-lot-note = More came by this link than is taken in a day. What has arrived is safe. Try again tomorrow, or write to your professional.
personal-not-here = That is not here
personal-not-here-note = It is not ready yet, or not here any more. Go back to your page and look there.
personal-went-wrong = Something went wrong here
personal-went-wrong-note = It is not your fault, and what you sent is safe. Try again in a few minutes.
personal-other-name = This door has another name
personal-other-name-note = Open your link again as it was sent to you.
personal-elsewhere = That did not come from your page
personal-elsewhere-note = Open your page again and press the button there.

# The professional's page of a link
personal-link-of = Personal link of { $name }
personal-link = Personal link
personal-link-what = With it { $name } sends clips and answers from anywhere, sees how far they are, and finds every lesson that you approved. Nothing else of the studio can be reached by it.
personal-the-link = The link
personal-shown-once = Send it to { $name }, or let the phone scan the square code. It is <strong>shown once</strong>, since only its hash is kept, and lives until { $ends }.
personal-address = Address
personal-copy = Copy
personal-s-copied = Copied
personal-s-copy-now = Selected: copy it now
personal-not-open = The studio was not opened for players. Close it, and open it with <code>lessonwright open --players ADDRESS:PORT --address https://HOST/</code> on a machine that players reach.
personal-lives-until = A link lives until { $ends }.
personal-none-living = { $name } has no link.
personal-days = Days it lives
personal-make = Make a link
personal-make-another = Make another link
personal-withdraw = Withdraw the link
personal-withdraw-all = Withdraw all links
personal-told-at = { $name } agreed to be told at { $address } when a lesson is there.
personal-came = What came
personal-in-tray = { $count ->
    [one] 1 clip in the tray
   *[other] { $count } clips in the tray
}
personal-no-answers = No answers yet.
personal-hurts-note = { $pain }. Noted with the answers before a prescription: talk to { $name } before you approve a lesson.
personal-ball = Ball: { $flight }
personal-club = Club: { $club }
personal-felt = Felt like: { $feel }
personal-have-read = I have read the answers
personal-pain = { $area } { $strength } of { $strongest }
personal-it-hurts = it hurts: { $pains }
personal-nothing-hurts = nothing hurts
personal-pain-unanswered = pain was not answered

# On Today
personal-by-players = Sent by players
personal-mail-stuck = An e-mail did not go out: <log>{ $why }</log>
personal-waited = has waited { $waited }
personal-answers = answers
personal-answers-say = answers: { $says }
personal-clips = { $count ->
    [one] a clip
   *[other] { $count } clips
}

# E-mails
personal-mail-came = { $name } sent something
personal-mail-came-text = { $name } sent something by the personal link.
personal-mail-came-where = It is on the studio's page Today.
personal-mail-lesson = Your lesson is there
personal-mail-lesson-text = A lesson is on your page.
personal-mail-lesson-from = A lesson from { $from } is on your page.
personal-mail-lesson-where = Open your page by the link that you were given. It is not in this e-mail, so that nobody else can open it.
personal-mail-lesson-agreed = You agreed to be told. On your page you can take that back.
personal-mail-test = The studio can send e-mail
personal-mail-test-text = The mail server of the studio is set as it should be.
