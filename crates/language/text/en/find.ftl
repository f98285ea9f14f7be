# The search.

find-title = Search
find-title-of = Search: { $asked }
find-heading = Search everything
find-heading-of = “{ $asked }”
find-in = Players, lessons, swings, notes, drills
find-button = Search
find-how = The beginning of a word is enough; accents don’t matter, nor does a slip in a longer word. On a keyboard, <kbd>/</kbd> goes to the field from anywhere.
find-nothing-long = Nothing has these words. Try fewer letters, or one word only.
find-nothing = Nothing has these words.
find-all-of = Everything with “{ $asked }”
find-players = Players
find-lessons = Lessons
find-swings = Swings
find-notes = Notes
find-drills = Drills
# Before the number of one, in what is shown of it.
find-swing = swing
find-lesson = lesson
find-silent = The studio does not answer. Is it still open?
