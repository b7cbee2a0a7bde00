"""An invented walker whose motion is known exactly, worn sensors with all their errors."""
