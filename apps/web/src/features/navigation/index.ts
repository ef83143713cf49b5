/** Where one is and how to get elsewhere. */
export { $address, goInstead, goTo, hrefOf, SCREENS, type Address, type Screen } from '../../platform/address/index.ts';
