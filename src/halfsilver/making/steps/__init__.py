"""Build steps of a piece, in the order of a good shop: `halfsilver.making.steps.build.build_steps`."""
