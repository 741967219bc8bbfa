"""The questions that fit a starter list to a build, when it begins and again later."""
