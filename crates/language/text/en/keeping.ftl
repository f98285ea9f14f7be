# The page Studio and what belongs to it.

keeping-language = Language
keeping-language-of-pages = The language of the studio's pages
keeping-language-choose = Choose this language
