export function WeeksPage() { return null }
