import { drawKeyboard, type KeyboardPicture as Picture } from '@fivespan/formats/diagram';
import { useMemo } from 'react';
import { useNoteText } from '../words/note-names.ts';
import styles from './KeyboardPicture.module.css';

/** A stretch of keyboard with what the hand does on it; as wide as its place. A screen reader hears its title and description. */
export function KeyboardPicture({ picture, theme }: { readonly picture: Picture; readonly theme: 'light' | 'dark' }) {
  const noteText = useNoteText();
  // our own drawing: every text in it is escaped where it is made
  const svg = useMemo(() => ({ __html: drawKeyboard(picture, { theme, noteText }) }), [picture, theme, noteText]);
  return <div className={styles.keyboard} dangerouslySetInnerHTML={svg} />;
}
