/**
 * A copy that the browser makes of whatever is chosen, with our text in its place. Older than the clipboard of secure pages,
 * and the only one on a page without TLS that is opened from another device.
 */
function copyAsChosen(text: string): boolean {
  let isCopied = false;
  const put = (event: ClipboardEvent): void => {
    event.clipboardData?.setData('text/plain', text);
    event.preventDefault();
    isCopied = true;
  };
  document.addEventListener('copy', put);
  document.execCommand('copy');
  document.removeEventListener('copy', put);
  return isCopied;
}

/** Puts a text where it can be pasted from. @returns whether it is there */
export async function copyText(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return copyAsChosen(text);
  }
}
