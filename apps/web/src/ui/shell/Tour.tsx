import { useEffect, useMemo, useRef, useState, type FocusEvent } from 'react';
import { OverlayArrow, Popover } from 'react-aria-components';
import { endTour, TOUR_STEPS, turnTour, type TourStep } from '../../features/tour/index.ts';
import { words } from '../words/index.ts';
import styles from './Tour.module.css';
import { TwoBars } from './TwoBars.tsx';

/** Once, when a step comes: the same function each time, or every change of the lesson would take the focus from who works. */
function takeFocus(step: HTMLElement | null): void {
  step?.focus({ preventScroll: true });
}

/**
 * A few sentences, one beside each thing it speaks of. Nothing is locked meanwhile: whoever wants to work does, and Escape or
 * 'Skip' ends it.
 */
export default function Tour({ step }: { readonly step: TourStep }) {
  const [frame, setFrame] = useState<Element | null>(null);
  const target = useMemo(() => ({ current: frame?.querySelector(`[data-tour="${step}"]`) ?? frame }), [frame, step]);
  const from = useRef<HTMLElement | null>(null);
  const { tour } = words.shell;
  const number = TOUR_STEPS.indexOf(step) + 1;

  useEffect(() => {
    const page = frame?.ownerDocument;
    const main = frame?.querySelector<HTMLElement>('main');
    return () => {
      // it took the focus: it gives it back to where one was, or to the screen where one was nowhere
      if (page === undefined || page.activeElement !== page.body) return;
      const back = from.current?.isConnected === true ? from.current : main;
      back?.focus({ preventScroll: true });
    };
  }, [frame]);
  useEffect(() => {
    const pointed = target.current;
    if (pointed === null || pointed === frame) return undefined;
    // what is spoken of is framed: on a phone the words lie at the window's foot, away from it
    pointed.setAttribute('data-pointed', '');
    return () => pointed.removeAttribute('data-pointed');
  }, [target, frame]);
  const onFocus = ({ relatedTarget, currentTarget }: FocusEvent<HTMLElement>): void => {
    if (relatedTarget instanceof HTMLElement && !currentTarget.contains(relatedTarget)) from.current = relatedTarget;
  };

  return (
    <>
      <span ref={(own) => setFrame(own?.parentElement ?? null)} hidden />
      {frame !== null && (
        <Popover
          // placed anew for each step
          key={step}
          triggerRef={target}
          placement="bottom"
          offset={10}
          isNonModal
          isOpen
          // the library would close it when the page is scrolled, and whoever looks round scrolls: Escape is heard below
          onOpenChange={() => {}}
          shouldCloseOnInteractOutside={() => false}
          className={styles.popover ?? ''}
        >
          <OverlayArrow className={styles.arrow ?? ''}>
            <svg width="18" height="9" viewBox="0 0 18 9" aria-hidden="true">
              <path d="M0 0 9 8.5 18 0" />
            </svg>
          </OverlayArrow>
          {/* not the library's Dialog: that one keeps the focus inside; this only hears where it came from */}
          {/* oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions */}
          <div
            ref={takeFocus}
            role="dialog"
            aria-label={tour.title}
            tabIndex={-1}
            className={styles.step}
            onFocus={onFocus}
            onKeyDown={({ key }) => {
              if (key === 'Escape') endTour();
            }}
          >
            <p className={styles.place}>
              {tour.title}, {tour.place(number, TOUR_STEPS.length)}
            </p>
            <p>{tour.steps[step]}</p>
            {step === 'lesson' && <TwoBars />}
            <div className={styles.ways}>
              <button type="button" className="plain" onClick={endTour}>
                {tour.skip}
              </button>
              <span className={styles.turn}>
                {number > 1 && (
                  <button type="button" onClick={() => turnTour(-1)}>
                    {tour.back}
                  </button>
                )}
                <button type="button" className="main" onClick={() => turnTour(1)}>
                  {number === TOUR_STEPS.length ? tour.end : tour.next}
                </button>
              </span>
            </div>
          </div>
        </Popover>
      )}
    </>
  );
}
