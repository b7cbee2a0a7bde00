"""imucarry: does the sternum still swing in a loaded carry?

Reads chest- and wrist-worn accelerometer and gyroscope recordings of loaded
carries and scores, for each bout, trunk rotation and arm swing stride by
stride against the same person's free walk.
"""

__version__ = "0.1.0"
