/** Where one is and how to get elsewhere. */
export {
  $address,
  goInstead,
  goTo,
  hrefOf,
  isBareAddress,
  SCREENS,
  type Address,
  type Screen,
} from '../../platform/address/index.ts';
export { $immersed, setImmersed } from './immersion.ts';
