# Why a swing is judged as it is, for the professional: the steps of the rule, what would change it, notes. What an analysis
# wrote down is found again by these words (crates/language/src/again.rs).

# Why a fact stands where it stands
judged-measured = Measured: the near end of its ± lies { $widths } half-widths outside the range: counts { $counts } of 1.
judged-measured-and-seen = Measured: the near end of its ± lies { $widths } half-widths outside the range, and the professional saw it: counts { $counts } of 1.
judged-seen = Seen by the professional (as { $widths } half-widths outside): counts { $counts } of 1.
judged-seen-inside = Seen by the professional, though its measure is not clearly outside its range (as { $widths } half-widths outside): counts { $counts } of 1.
judged-flight = Flight: { $roads }: counts { $counts }.
judged-road-often = a road to the { $flight } told, over “{ $club }” (grade { $grade }, often named)
judged-road-sometimes = a road to the { $flight } told, over “{ $club }” (grade { $grade }, sometimes named)
judged-no-road = no road to the { $flight } told ({ $counts })
judged-flight-content = Flight: as wanted, so it can't tell them apart: counts { $counts }.
judged-flight-none = Flight: none was told that helps: counts { $counts }.
judged-set-up = Set-up, which is looked at first: times { $times }.
judged-goal = Serves a goal of the player ({ $goal }): times { $times }.
judged-limit = A limit of the player's ({ $limit }): times { $times }.
judged-received = Leads to “{ $fact }” and takes { $part } of its weight.
judged-handed = Follows from “{ $fact }”, which takes { $part } of its weight.
judged-weight = Weight { $weight } of { $sum } in all, of which { $unseen } are kept for what nobody has seen: { $percent } %.

# Why it is behind the first
judged-not-before = Not before “{ $fact }”: { $reason }.
judged-it-follows = it follows from that, and the beginning of a chain is worked on first
judged-likelier = that is the likelier road to the { $flights }
judged-set-up-first = that is set-up, and is looked at first
judged-clearer = that is shown more clearly
judged-more-follows = more of what was found follows from that
judged-body-allows = the player's body allows that more easily
judged-serves-goal = that serves the player's goal
judged-follows-other = this one follows from something else that was found
judged-no-difference = nothing separates them; that one comes earlier in the swing

# Why it is not ranked
judged-excluded = Left out for a limit of the player's: { $limit }.
judged-last-resort = A spread of players and not an aim: a choice only when nothing else is found.
judged-content = The ball flies as wanted, and no measure shows this at least { $widths } half-widths outside its range.

# What would change it
judged-edge = If another swing comes within its ± of { $edge }, we would pick something else.
judged-flight-untold = The usual ball flight was not told; one with another cause would change the order.
judged-flight-unclear = "{ $said }" was not understood as a ball flight; say it in one word, such as slice, pull, push, hook, fat or thin.
judged-flies-as-wanted = The ball already flies as wanted: ask first whether a change is worth it.
judged-missing = Not measured in this swing: { $measures }. If it turned out to be off, we would start there.
judged-unclear = Outside the range, but not beyond its ±: { $measures }. A second film could make it a finding.
judged-unlooked = Nothing of the set-up was ticked; look for this first: { $facts }.
judged-next = Next in line: { $fact } ({ $percent } %).
judged-what-where = { $measure } { $when } (seen { $view })

# Notes
judged-trade = { $trade } 95 % interval { $interval }; { $widths } band half-widths outside at its near end.
judged-source = { $from } → { $to }: grade { $grade }. { $source }
judged-source-none = { $from } → { $to }: grade { $grade }.
judged-source-body = Teaching consensus: the one follows from the other.
judged-small-step = The step of { $step } is less than the { $detectable } that one film against another can show: compare several swings.
judged-chosen-gone = Chosen was { $fact }, which is not found any more: what is proposed stands.
judged-chosen = Chosen by the professional: { $fact }; proposed was { $proposed }.
judged-chosen-because = Chosen by the professional: { $fact }; proposed was { $proposed }. Because: { $why }
judged-no-change = no change
judged-no-drill = No drill remains: each one of this priority would feed the flight told or is not for a limit of this player's. Add one of your own (`lessonwright drills`).
judged-no-finding = No finding: no 95 % interval lies wholly outside its reference band.
judged-no-priority = No priority: nothing found explains the flight told, or that is no complaint and nothing lies { $widths } half-widths or more outside its band.
judged-lowered = Dose lowered: { $because }.
judged-withheld = Exercise withheld by the rules of the screening. Once a physician or physiotherapist has agreed, note who and when with the answers (a health note starts with "cleared"); the dose is then lowered, but for warning signs and strong pain.
judged-unused = Not used: { $problem }.

# What has to be asked before anything is prescribed
judged-ask-never = Pain, injury, surgery and medicine have not been asked for: ask before anything is prescribed.
judged-ask-old = The answers on pain, injury, surgery and medicine are { $days } days old: ask again before anything is prescribed.
judged-ask-age = The player's age is not on record: ask for it, since juniors and seniors do less.

# Why there is no practice plan
judged-no-plan-nothing = The lesson prescribes no drill, so there is nothing to practise
judged-no-plan-not-for = The drill "{ $drill }" is not for what the player has told since the lesson was drafted: draft the lesson again
judged-no-plan-gone = The drill "{ $drill }" is not in the drill book any more: draft the lesson again
judged-no-plan-time = The next lesson must be after the first day of practice
judged-no-plan-far = At most { $weeks } weeks are planned at once: set an earlier lesson or check
judged-no-plan-day = None of the days chosen comes before the next lesson: choose other days or more of them
judged-no-plan-minutes = Give { $fewest } to { $most } minutes a session, not { $minutes }
