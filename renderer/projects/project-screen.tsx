export function ProjectScreen() {
  return null
}
