"""Plans, orders and mixes as text for a screen of any width; nothing here prints.

`days`, `summary`, `takeoff`, `card` and `findings` each make one text; `diary` gathers what happens on a day and
`measures` what a batch is measured by; `page` wraps lines and `words` names things.
"""
