// For looking at shapes: the material's colour, toned down, without figure or gloss.
uniform vec3 pale;

void main() {
  vec3 n = normalize(to_camera * facing);
  fragment = developed(pale * dull(n, key_light(n)));
}
