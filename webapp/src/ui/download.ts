// Saves a file that the app made.

export function download(file: Blob, name: string): void {
  const link = document.createElement('a')
  link.href = URL.createObjectURL(file)
  link.download = name
  link.click()
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000) // a large file is still being written meanwhile
}

/** A name as part of a file's: its letters and digits, small; another word where it has none. */
export function fileWord(name: string, otherwise: string): string {
  return name.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '') || otherwise
}
