import { parseKey } from '@fivespan/core';
import { useKeyText } from '../words/key-text.ts';

/** A function that names a key by its name in ASCII as keys are named on the screen. */
export function useKeyName(): (name: string) => string {
  const keyText = useKeyText();
  return (name) => {
    const key = parseKey(name);
    return key === undefined ? name : keyText(key);
  };
}
