// The notebook that is open, for every component below the shell.

import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import type { Notebook } from '../sync/notebook'

export const NotebookContext = createContext<Notebook | undefined>(undefined)

export function useNotebook(): Notebook {
  const notebook = useContext(NotebookContext)
  if (!notebook) throw new Error('a place was drawn before the notebook was open')
  return notebook
}
