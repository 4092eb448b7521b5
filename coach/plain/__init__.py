"""The same job as question-and-answer lines: for screen readers, for ssh, for scripts.

    talk        saying a line, asking a question, taking an answer
    aloud       lines that make sense when they are read aloud
    script      where answers come from: a file, or standard input
    words       the words that can be said at every question
    step_lines  a step in lines
    job         one session, step by step          measuring  where a mark lies
    listing     entries, help, the trade's words   adjusting  what was really turned or moved
    describing  a machine, question by question    describing_lines  how its questions are said
    home        machines and sessions              run        from the data folder to an exit status

No terminal is needed: nothing moves the cursor and nothing is coloured.
"""
