"""A visit as one page for somebody who was not there: what was found, what was done, how it is now, what is open."""
