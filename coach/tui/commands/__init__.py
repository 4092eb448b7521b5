"""All commands, one class each; `registry` says which screen has which."""
