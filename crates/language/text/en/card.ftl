# The practice card: one sheet.

card-title = Practice card: { $drill }
card-sum = { $title }. { $sessions ->
    [one] { $sessions } session
   *[other] { $sessions } sessions
} { $place }, until the lesson of { $until }.
card-day = Day
card-drill = Drill
card-mixed = Mixed
card-played = Played
card-min = Min
card-film = Film
card-done = Done
card-film-it = film
card-as-shown = as shown
card-steps = The drill, step by step
card-film-before = <strong>Film:</strong> before the drill, as under "the check".
card-at-hand = At hand: { $things }. Rest after every round.
card-mixed-says = <strong>Mixed:</strong> another club or target every ball, swings in your mind without one. <strong>Played:</strong> your whole routine, look at nothing until the last is hit.
card-check = The check
card-station = The station
card-right-when = It is right when
card-care = Take care
