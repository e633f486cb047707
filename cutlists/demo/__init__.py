"""An invented month of an invented job, played through the product's own deeds: it plays deeds of both apps."""
