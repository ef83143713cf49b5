import { shownText } from '@fivespan/core';

/** Lines for a person to read, with titles and names from outside in them: a terminal obeys nothing of what they hold. */
export const shownLines = (text: string): string => text.split('\n').map(shownText).join('\n');
