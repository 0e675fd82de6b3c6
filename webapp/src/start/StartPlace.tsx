// Today, and the list of words that one asks about.

import type { ComponentType } from 'preact'
import { Later } from '../ui/Later'
import { route } from '../ui/route'
import { StartPage } from './StartPage'
import './start.css'

// Read once or twice: a file of its own, which the service worker keeps too.
const loadWords = (): Promise<ComponentType> => import('./WordsPage').then((words) => words.WordsPage)

export function StartPlace() {
  return route.value[1] === 'words' ? <Later load={loadWords} /> : <StartPage />
}
