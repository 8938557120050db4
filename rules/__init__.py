"""The rules, codes and tables that wayroom ships. The checker finds them by entry point, as it would a third party's."""

#: Tells our package from others of the same name.
WAYROOM = "wayroom"
