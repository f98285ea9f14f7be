# The page Studio and what belongs to it.

keeping-language = Sprache
keeping-language-of-pages = Die Sprache der Seiten des Studios
keeping-language-choose = Diese Sprache wählen
