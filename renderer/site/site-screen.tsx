export function SiteScreen() {
  return null
}
