// The script of the pages.
