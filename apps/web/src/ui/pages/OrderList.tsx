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
      <ul>
        {orders.map((order) => (
          <OrderLine key={order.id} order={order} />
        ))}
      </ul>
    </section>
  );
}

function OrderLine({ order: { id, thing, state } }: { readonly order: Order }) {
  const keyText = useKeyText();
  const name =
    thing.kind === 'file'
      ? words.pages.making.file(thing.file, keyText(thing.key))
      : thing.kind === 'pack'
        ? words.pages.making.pack(thing.keys)
        : thing.kind === 'sound'
          ? words.pages.making.sound(thing.format)
          : words.pages.making.lesson;
  if (state.kind === 'making') {
    const share = state.done / state.total;
    return (
      <li>
        <span className={styles.name}>{name}</span>
        <progress aria-label={name} max={1} {...(state.done === 0 ? {} : { value: share })} />
        <span className={styles.share}>{state.done === 0 ? words.pages.waiting : words.pages.percent(share)}</span>
        <button aria-label={words.pages.stopOf(name)} onClick={() => stopOrder(id)}>
          {words.pages.stop}
        </button>
      </li>
    );
  }
  const end =
    state.kind === 'saved'
      ? words.pages.saved(state.name, sizeText(state.bytes))
      : state.kind === 'stopped'
        ? words.pages.nothingSaved
        : faultText(state.fault, words.pages.cannot);
  return (
    <li>
      <span className={styles.end} role={state.kind === 'failed' ? 'alert' : 'status'}>
        <span className={styles.name}>{name}</span>: {end}
      </span>
      <button className="plain" aria-label={words.pages.forgetOf(name)} onClick={() => forgetOrder(id)}>
        {words.pages.forget}
      </button>
    </li>
  );
}
