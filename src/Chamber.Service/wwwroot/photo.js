// Where on a photo somebody tapped, as shares of its width and height.
export function share(photo, clientX, clientY) {
  const box = photo.getBoundingClientRect();
  const within = value => Math.min(1, Math.max(0, value));
  return [within((clientX - box.left) / box.width), within((clientY - box.top) / box.height)];
}
