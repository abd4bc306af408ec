/** The link of an invitation at the address at which the app is open. The invitation stands behind the #, which is sent nowhere. */
export function invitationAddress(text: string, appAddress: string): string {
  const address = new URL(appAddress);
  address.hash = text;
  return address.href;
}
