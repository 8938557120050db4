"""What an invented bakery asks of its cable carriers."""
