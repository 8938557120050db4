"""Rules of access: is there room for later in what can't be opened again."""
