# A player's practice plan as a page of the studio, and why there is none.

practice-page-title = Practice of { $player }
practice-page-plan = Practice plan
practice-page-kicker = { $player }: practice plan
practice-page-card = Card to print
practice-page-calendar = Calendar file
practice-page-change = Change days, minutes or place
practice-page-until = Until the next lesson
practice-page-none-title = No practice plan for { $player }
practice-page-none = No practice plan yet
practice-page-settings = Ask, set and choose
practice-page-back = Back to { $player }
practice-page-not-said = Where, when and how long the player practises has not been said yet.
practice-page-no-swing = There is no analysed swing yet, so nothing is prescribed.
practice-page-newer = The answers on pain, injury, surgery and medicine are newer than this lesson, so its drill and dose may not fit them. Draft it again.
