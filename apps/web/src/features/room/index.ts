/** How much room a thing on the screen has. */
export { watchRoom, type Room } from '../../platform/room/index.ts';
