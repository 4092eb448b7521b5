"""The shell side of the coach: one action per subcommand, over the same engine as the full screen.

    main       from arguments to an exit status; every error becomes one sentence
    parser     the parser itself, and negative numbers as values of options
    options    which subcommands there are; what each takes: …_options
    machines   new-machine          marking   mark, miss           listing   list
    changes    new-session, turn, shift, lock, note, undo          checking  check
    hindrances refuse, mended, best, disturbed
    describing described
    advising   advise               learning  learned              screen    the full-screen program

Everything that needs numpy, pydantic or the screen is imported when its subcommand runs, never before.
Exit status: 0 done, 2 wrong use or input that cannot be used, 3 done but the answer could not be
written, 1 a mistake in the coach, 130 interrupted.
"""
