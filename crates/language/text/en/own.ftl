own-none-link = link { $key }
own-none-target = target { $key }
own-choose-units = Choose centimetres or inches.
