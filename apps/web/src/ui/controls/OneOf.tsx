import { useRef, type KeyboardEvent } from 'react';
import styles from './OneOf.module.css';

interface OneOfProps<Each extends string> {
  readonly label: string;
  readonly choices: readonly Each[];
  readonly textOf: (each: Each) => string;
  readonly value: Each;
  readonly onChange: (each: Each) => void;
  /** Of tabs: the id of what they show; its own name is then `${panelId}-tab`. */
  readonly panelId?: string;
  readonly size?: 'large' | 'usual';
}

/** The choice a key leads to; undefined for a key that leads nowhere. */
function placeAfterKey(key: string, at: number, count: number): number | undefined {
  switch (key) {
    case 'ArrowRight':
    case 'ArrowDown':
      return (at + 1) % count;
    case 'ArrowLeft':
    case 'ArrowUp':
      return (at + count - 1) % count;
    case 'Home':
      return 0;
    case 'End':
      return count - 1;
    default:
      return undefined;
  }
}

/**
 * One of a few: words in a row, the chosen one on a thick stroke. With a panel they are its tabs, else radio buttons. One of them
 * is in the order of Tab, arrows choose (WAI-ARIA Authoring Practices, tabs and radio group).
 */
export function OneOf<Each extends string>({
  label,
  choices,
  textOf,
  value,
  onChange,
  panelId,
  size = 'usual',
}: OneOfProps<Each>) {
  const box = useRef<HTMLDivElement>(null);
  const isTabs = panelId !== undefined;
  const takeKey = (event: KeyboardEvent): void => {
    const to = placeAfterKey(event.key, choices.indexOf(value), choices.length);
    const next = to === undefined ? undefined : choices[to];
    if (next === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    onChange(next);
    box.current?.querySelector<HTMLElement>(`[data-choice="${next}"]`)?.focus();
  };
  return (
    // oxlint-disable-next-line jsx-a11y/no-static-element-interactions -- its role is one of two
    <div
      ref={box}
      role={isTabs ? 'tablist' : 'radiogroup'}
      aria-label={label}
      className={styles.oneOf}
      data-size={size}
      tabIndex={-1}
      onKeyDown={takeKey}
    >
      {choices.map((each) => {
        const isChosen = each === value;
        return (
          <button
            key={each}
            type="button"
            role={isTabs ? 'tab' : 'radio'}
            id={isTabs && isChosen ? `${panelId}-tab` : undefined}
            data-choice={each}
            aria-controls={isTabs && isChosen ? panelId : undefined}
            aria-selected={isTabs ? isChosen : undefined}
            aria-checked={isTabs ? undefined : isChosen}
            tabIndex={isChosen ? 0 : -1}
            onClick={() => onChange(each)}
          >
            {/* the bold word's room is kept, so that nothing moves */}
            <span data-word={textOf(each)}>{textOf(each)}</span>
          </button>
        );
      })}
    </div>
  );
}
