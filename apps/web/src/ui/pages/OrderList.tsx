import { DRILL_WORDS } from '@fivespan/core';
import { $orders, forgetOrder, stopOrder, type Order } from '../../features/handing-out/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { faultText } from './fault-text.ts';
import { useKeyText } from '../words/key-text.ts';
import styles from './OrderList.module.css';

/** A file's size as one says it. */
function sizeText(bytes: number): string {
  return bytes >= 1e6
    ? words.pages.megabytes((bytes / 1e6).toFixed(1))
    : words.pages.kilobytes((bytes / 1e3).toFixed(bytes < 10_000 ? 1 : 0));
}

/** Files that are being made, and what became of the last ones. */
export function OrderList() {
  const orders = useStore($orders);
  return (
    <section className={orders.length === 0 ? undefined : styles.orders} aria-label={words.pages.orders}>
      {/* always there, so that what comes into it is heard */}
      <p className="unseen" role="status">
        {orders.map((order) => (
          <OrderEnd key={order.id} order={order} />
        ))}
      </p>
      <ul>
        {orders.map((order) => (
          <OrderLine key={order.id} order={order} />
        ))}
      </ul>
    </section>
  );
}

/** What is being made, in words. */
function useThingText({ thing }: Order): string {
  const keyText = useKeyText();
  switch (thing.kind) {
    case 'file':
      return words.pages.making.file(thing.file, keyText(thing.key));
    case 'pack':
      return words.pages.making.pack(thing.keys);
    case 'sound':
      return words.pages.making.sound(thing.format);
    case 'film':
      return words.pages.making.film(keyText(thing.key));
    case 'film texts':
      return words.pages.making.filmTexts(keyText(thing.key));
    case 'lesson':
      return words.pages.making.lesson;
    case 'drill':
      return words.pages.making.drill(DRILL_WORDS[thing.drill].name, thing.format);
    default:
      return thing satisfies never;
  }
}

/** What became of an order; null while it is being made. */
function endText({ state }: Order): string | null {
  switch (state.kind) {
    case 'making':
      return null;
    case 'saved':
      return words.pages.saved(state.name, sizeText(state.bytes));
    case 'stopped':
      return words.pages.nothingSaved;
    case 'failed':
      return faultText(state.fault, words.pages.cannot);
    default:
      return state satisfies never;
  }
}

/** An order's end as it is said aloud. */
function OrderEnd({ order }: { readonly order: Order }) {
  const name = useThingText(order);
  const end = endText(order);
  return end === null ? null : <span>{`${name}: ${end} `}</span>;
}

function OrderLine({ order }: { readonly order: Order }) {
  const { id, state } = order;
  const name = useThingText(order);
  if (state.kind === 'making') {
    const share = state.done / state.total;
    return (
      <li>
        <span className={styles.name}>{name}</span>
        <progress aria-label={name} max={1} {...(state.done === 0 ? {} : { value: share })} />
        <span className={styles.share}>
          {state.done === 0 ? words.pages.waiting : words.pages.percent(share)}
          {state.leftSeconds !== undefined && `, ${words.pages.left(state.leftSeconds)}`}
        </span>
        <button aria-label={words.pages.stopOf(name)} onClick={() => stopOrder(id)}>
          {words.pages.stop}
        </button>
      </li>
    );
  }
  return (
    <li>
      <span className={styles.end}>
        <span className={styles.name}>{name}</span>: {endText(order)}
      </span>
      <button className="plain" aria-label={words.pages.forgetOf(name)} onClick={() => forgetOrder(id)}>
        {words.pages.forget}
      </button>
    </li>
  );
}
