"""From rows to the values that sheets print: the stored figures, nothing worked out anew."""
