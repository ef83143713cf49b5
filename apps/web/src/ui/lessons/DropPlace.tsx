import { useEffect, useState } from 'react';
import { takeFiles, watchDrops } from '../../features/outside-file/index.ts';
import { words } from '../words/index.ts';
import styles from './DropPlace.module.css';

/** Files that are dropped anywhere on the page are taken in. */
export function DropPlace() {
  const [isOver, setOver] = useState(false);
  useEffect(() => watchDrops({ hover: setOver, drop: (files) => void takeFiles(files) }), []);
  if (!isOver) return null;
  return (
    <div className={styles.over} role="status">
      <p>{words.lessons.dropHere}</p>
    </div>
  );
}
