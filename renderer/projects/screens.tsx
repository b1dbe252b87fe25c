export { HomeScreen } from './home-screen.tsx'
export { ProjectScreen } from './project-screen.tsx'
