# What is around every page.

# The tag of this language (BCP 47)
page-language = en

page-skip = Skip to the content
page-places = The studio
page-today = Today
page-players = Players
page-bring-in = Bring in
page-drills = Drills
page-progress = Progress
page-studio = Studio
page-search = Search everything
page-trail = Where you are
