// Wood of which no photo is there.
void main() {
  vec3 g = grain_at;
  float pixel = pixel_size(g);
  float number = ring_number(g);
  float fine = fine_layers(g, pixel);
  vec3 n_grain = normalize(grain_facing);
  vec3 albedo = solid_wood(g, n_grain, pixel, number, fwidth(number), fine);
  fragment = finished_wood(albedo, fine, n_grain.x * n_grain.x);
}
