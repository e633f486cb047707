"""Plain charts of the figures, in one ink, as drawings for screen and paper alike; one file for each."""
