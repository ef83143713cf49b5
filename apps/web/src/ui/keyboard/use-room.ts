import { useEffect, useState, type RefObject } from 'react';
import { watchRoom, type Room } from '../../features/room/index.ts';

/** How much room an element has; null before it is laid out. */
export function useRoom(element: RefObject<Element | null>): Room | null {
  const [room, setRoom] = useState<Room | null>(null);
  useEffect(() => (element.current === null ? undefined : watchRoom(element.current, setRoom)), [element]);
  return room;
}
