import { Header, Menu, MenuItem, MenuSection, Popover, Separator } from 'react-aria-components';
import type { RefObject } from 'react';
import { goTo, type Screen } from '../../features/navigation/index.ts';
import { words } from '../words/index.ts';
import styles from './LessonMenu.module.css';

/** What can be done with a lesson from the shelf, beside going to its screens. */
export type LessonAct = 'rename' | 'folder' | 'duplicate' | 'save' | 'earlier' | 'later' | 'remove';

interface LessonMenuProps {
  readonly of: RefObject<HTMLButtonElement | null>;
  readonly id: string;
  readonly title: string;
  /** Screens that are not a press away already. */
  readonly screens: readonly Screen[];
  readonly acts: readonly LessonAct[];
  readonly act: (what: LessonAct) => void;
  readonly end: () => void;
}

/** The rest that can be done with a lesson. */
export default function LessonMenu({ of, id, title, screens, acts, act, end }: LessonMenuProps) {
  const { more, screens: screenWords, moreOf } = words.lessons;
  return (
    <Popover
      triggerRef={of}
      isOpen
      placement="bottom end"
      offset={4}
      className={styles.popover ?? ''}
      onOpenChange={(isOpen) => {
        if (!isOpen) end();
      }}
    >
      <Menu
        className={styles.menu ?? ''}
        aria-label={moreOf(title)}
        // it was opened to be gone through
        // oxlint-disable-next-line jsx-a11y/no-autofocus
        autoFocus="first"
        onClose={end}
        onAction={(key) => {
          const screen = screens.find((each) => each === key);
          if (screen !== undefined) goTo({ kind: 'lesson', id, screen });
          else act(key as LessonAct);
        }}
      >
        <MenuSection>
          <Header className={styles.head ?? ''}>{title}</Header>
          {screens.map((screen) => (
            <MenuItem key={screen} id={screen} className={styles.item ?? ''}>
              {screenWords[screen]}
            </MenuItem>
          ))}
        </MenuSection>
        <Separator className={styles.rule ?? ''} />
        <MenuSection aria-label={words.lessons.moreActs}>
          {acts.map((each) => (
            <MenuItem key={each} id={each} className={styles.item ?? ''}>
              {more[each]}
            </MenuItem>
          ))}
        </MenuSection>
      </Menu>
    </Popover>
  );
}
