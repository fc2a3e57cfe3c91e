"""Pictures for the public, without what cameras and programs write into their files beside the picture."""
