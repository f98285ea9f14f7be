personal-none-form = form
personal-not-opened = The studio was not opened for players: see docs/personal-link.md.
personal-link-days = A link lives from 1 to { $most } days.
