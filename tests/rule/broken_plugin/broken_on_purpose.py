raise RuntimeError("this module is broken on purpose")
