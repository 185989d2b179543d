"""The main job: stock on hand ranked for a cut."""
