# Days, times of day and durations.

when-month-january = Januar
when-month-february = Februar
when-month-march = März
when-month-april = April
when-month-may = Mai
when-month-june = Juni
when-month-july = Juli
when-month-august = August
when-month-september = September
when-month-october = Oktober
when-month-november = November
when-month-december = Dezember
when-month-short-january = Jan.
when-month-short-february = Feb.
when-month-short-march = März
when-month-short-april = Apr.
when-month-short-may = Mai
when-month-short-june = Juni
when-month-short-july = Juli
when-month-short-august = Aug.
when-month-short-september = Sept.
when-month-short-october = Okt.
when-month-short-november = Nov.
when-month-short-december = Dez.
when-monday = Montag
when-tuesday = Dienstag
when-wednesday = Mittwoch
when-thursday = Donnerstag
when-friday = Freitag
when-saturday = Samstag
when-sunday = Sonntag
when-short-monday = Mo
when-short-tuesday = Di
when-short-wednesday = Mi
when-short-thursday = Do
when-short-friday = Fr
when-short-saturday = Sa
when-short-sunday = So
when-date = { $day }. { $month } { $year }
when-day-month = { $day }. { $month }
when-weekday-day-month = { $weekday }, { $day }. { $month }
when-weekday-date = { $weekday }, { $day }. { $month } { $year }
when-minute = { $date }, { $clock } Uhr
when-today = heute
when-tomorrow = morgen
when-yesterday = gestern
# Durations are in the dative: they follow "seit" and "vor".
when-less-than-an-hour = weniger als einer Stunde
when-hours = { $n ->
    [one] { $n } Stunde
   *[other] { $n } Stunden
}
when-days = { $n ->
    [one] { $n } Tag
   *[other] { $n } Tagen
}
