# Days, times of day and durations.

when-month-january = January
when-month-february = February
when-month-march = March
when-month-april = April
when-month-may = May
when-month-june = June
when-month-july = July
when-month-august = August
when-month-september = September
when-month-october = October
when-month-november = November
when-month-december = December
when-month-short-january = Jan
when-month-short-february = Feb
when-month-short-march = Mar
when-month-short-april = Apr
when-month-short-may = May
when-month-short-june = Jun
when-month-short-july = Jul
when-month-short-august = Aug
when-month-short-september = Sep
when-month-short-october = Oct
when-month-short-november = Nov
when-month-short-december = Dec
when-monday = Monday
when-tuesday = Tuesday
when-wednesday = Wednesday
when-thursday = Thursday
when-friday = Friday
when-saturday = Saturday
when-sunday = Sunday
when-short-monday = Mon
when-short-tuesday = Tue
when-short-wednesday = Wed
when-short-thursday = Thu
when-short-friday = Fri
when-short-saturday = Sat
when-short-sunday = Sun
when-date = { $day } { $month } { $year }
when-day-month = { $day } { $month }
when-weekday-day-month = { $weekday } { $day } { $month }
when-weekday-date = { $weekday } { $day } { $month } { $year }
when-minute = { $date }, { $clock }
when-today = today
when-tomorrow = tomorrow
when-yesterday = yesterday
when-less-than-an-hour = less than an hour
when-hours = { $n ->
    [one] { $n } hour
   *[other] { $n } hours
}
when-days = { $n ->
    [one] { $n } day
   *[other] { $n } days
}
