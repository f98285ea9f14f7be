progress-filmed = Not analysed yet
progress-no-lesson = No lesson yet
progress-set-aside = Needs no lesson
progress-drafted = Draft to read
progress-approved = Approved
progress-sent = Sent
progress-upshot-not-analysed = Not analysed yet
progress-upshot-nothing = Nothing stands out
