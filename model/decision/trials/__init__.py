"""The coming years of every option, many times over by one set of chances."""
