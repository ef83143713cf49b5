import { useEffect, useRef, useState } from 'react';
import { openDialog } from '../../features/navigation/index.ts';
import { words } from '../words/index.ts';
import styles from './HeaderTools.module.css';

/** Help and settings: words where there is room for them, else behind three dots. */
export function HeaderTools() {
  const [isOpen, setIsOpen] = useState(false);
  const more = useRef<HTMLButtonElement>(null);
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (!isOpen) return undefined;
    const page = box.current?.ownerDocument;
    const onPress = ({ target }: Event): void => {
      if (!(target instanceof Node) || box.current?.contains(target) !== true) setIsOpen(false);
    };
    page?.addEventListener('pointerdown', onPress);
    return () => page?.removeEventListener('pointerdown', onPress);
  }, [isOpen]);
  const choose = (kind: 'help' | 'settings'): void => {
    if (isOpen) {
      // the word that was pressed goes: what is opened gives the focus back to the dots
      more.current?.focus();
      setIsOpen(false);
    }
    openDialog({ kind });
  };
  return (
    // oxlint-disable-next-line jsx-a11y/no-static-element-interactions -- Escape closes it from wherever in it
    <div
      ref={box}
      className={styles.box}
      data-tour="help"
      onKeyDown={({ key }) => {
        if (key !== 'Escape' || !isOpen) return;
        setIsOpen(false);
        more.current?.focus();
      }}
      onBlur={({ relatedTarget, currentTarget }) => {
        if (relatedTarget !== null && !currentTarget.contains(relatedTarget)) setIsOpen(false);
      }}
    >
      <button
        ref={more}
        type="button"
        className={`plain ${styles.more}`}
        aria-label={words.shell.more}
        aria-expanded={isOpen}
        onClick={() => setIsOpen(!isOpen)}
      >
        <svg viewBox="0 0 20 6" width="20" height="6" aria-hidden="true" fill="currentColor">
          <circle cx="3" cy="3" r="1.9" />
          <circle cx="10" cy="3" r="1.9" />
          <circle cx="17" cy="3" r="1.9" />
        </svg>
      </button>
      <div className={styles.tools} data-open={isOpen}>
        <button type="button" className="plain" onClick={() => choose('help')}>
          {words.shell.help}
        </button>
        <button type="button" className="plain" onClick={() => choose('settings')}>
          {words.shell.settings}
        </button>
      </div>
    </div>
  );
}
