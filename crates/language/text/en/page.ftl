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

# How the pages look
page-look = How the pages look
page-look-show = Show the pages
page-look-device = as this device does
page-look-light = light
page-look-dark = dark
page-look-sun = for bright sun
page-look-now = (now)

# Where the studio does not answer or could not keep what was sent
page-not-answering = The studio does not answer: it was closed, or this machine is busy. Nothing is lost – what you typed is still here and is sent as soon as it answers. Open it again with lessonwright open.
page-typed-again = What you typed is here again; it was not kept. Send it again.
page-disk-full = The disk is full
page-disk-full-what = There is no room left on the disk of the studio's machine, so this was not kept. What was kept before is whole.
page-disk-full-then = Make room – on the page Studio, under Storage, is what can be cleared – then go back and send it again.
page-busy = The studio is busy
page-busy-what = Another program is writing to the studio's database – a backup, an import, a second studio – so this was not kept.
page-busy-then = Wait a moment, then go back and send it again.
page-back = Back

# While progress is worked out
page-wait = Being worked out
page-wait-says = { $players } players' swings are being looked through, because the studio was just opened or something changed. This takes some seconds; the page shows itself by itself.
