"""Plans, orders and mixes as text for a screen of any width; nothing here prints.

`days`, `summary`, `takeoff`, `card` and `findings` each make one text. Of the days, `diary` gathers what happens (in
the records of `day`; equal things in `together`), `pauses` and `occupied` why nothing is poured, `head`, `jobs` and
`crew` put it into words. `measures` says what a batch is measured by; `page` wraps lines and `words` names things.
"""
