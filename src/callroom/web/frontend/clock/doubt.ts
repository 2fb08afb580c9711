// Results are cut off to whole seconds; a quarter of one is where a difference can be seen.
export const DOUBTFUL_MS = 250;
