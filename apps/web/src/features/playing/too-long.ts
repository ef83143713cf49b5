/** What the worker says of a drill that lasts longer than a programme may; the screen knows it by this. */
export const TOO_LONG = 'the drill lasts too long';
