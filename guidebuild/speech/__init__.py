"""Speech: from text to seconds. Spoken forms, syllables, timing, a speaker's pace, cues and captions, reading ease."""
