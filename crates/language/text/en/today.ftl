# The page Today.

today-empty = No players yet
today-film = Film a swing face-on, down the line, or both, and let the program look at it:
today-command-face-on = FACE-ON.mp4
today-command-down-the-line = DOWN-THE-LINE.mp4
today-command-name = NAME
today-then = The player and the swing are here as soon as it has finished. Or <take-in>take a player in</take-in> first.
today-coming = Who is coming
today-nobody-comes = Nobody in the next seven days.
today-write = Write somebody into the diary
today-waiting = Waiting for you
today-waiting-for = Waiting for you, { $coach }
today-all-read = Every swing is read.
today-waited = has waited { $waited }
today-sent-in-waited = sent from afar, has waited { $waited }
today-no-lesson = Needs no lesson
today-no-lesson-for = Needs no lesson: { $name }, { $day }
today-more-wait = { $more } more wait; those that have waited longest are shown.
today-to-send = Lessons to send
today-none-to-send = No approved lesson waits to be sent.
today-approved = approved { $ago } ago
today-not-agreed = Has not agreed to be sent lessons
today-not-agreed-of = Has not agreed to be sent lessons: { $name }; note the consent
today-mark-sent = Mark as sent
today-mark-sent-of = Mark as sent: the lesson of { $name }
today-more = { $more } more.
today-due = Due to be filmed again
today-nobody-due = Nobody is due.
today-due-today = due today
today-due-since = due since { $day }
today-working = What is working
today-more-and-working = { $more } more, and what is working

# The diary, on the page Today and on a player's page.
today-diary-day = Day
today-diary-time = Time
today-diary-minutes = Minutes
today-diary-place = Place
today-diary-purpose = What for
today-diary-player = Player
today-diary-write = Write it down
today-diary-length = { $n } min
today-diary-change-of = Move or cancel: { $name }, { $time }
today-diary-change = Move or cancel
today-diary-cancel = Cancel the appointment
today-diary-move = Move
