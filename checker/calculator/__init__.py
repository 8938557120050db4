"""``wayroom fit --page``: the calculator as one page that works offline, with the same rules inside.

The rules of fill, and what ``checker.fit`` does with them, are written again in JavaScript (``fill.js`` to ``fit.js``), and have no figures
of their own: limits, tables and the rules' constants come from the loaded codes (``data.py``). Who changes a rule of fill changes it there
too. That both answer alike is held in three ways: the tests ask thousands of questions of both; each page brings answers of ``checker.fit``
along (``known.py``), repeats them when it opens and, where one differs, gives no answers at all; and a code with a fill rule that the page
doesn't know gets no page.
"""
