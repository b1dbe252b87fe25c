export function HomeScreen() {
  return null
}
