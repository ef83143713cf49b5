/** Where one is and how to get elsewhere. */
export {
  $address,
  goInstead,
  goTo,
  hrefOf,
  isBareAddress,
  loadAnew,
  SCREENS,
  type Address,
  type Screen,
} from '../../platform/address/index.ts';
export { arriveAt, hasArrived } from './arrival.ts';
export { $immersed, setImmersed } from './immersion.ts';
export { $dialog, closeDialog, openDialog, type OpenDialog } from './dialogs.ts';
export { onKeyPress } from '../../platform/keys/index.ts';
export { firstScreen, screenIsThere } from './first-screen.ts';
