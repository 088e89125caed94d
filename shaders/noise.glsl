// Noise without textures: an integer hash (PCG; Jarzynski and Olano, Journal of Computer Graphics Techniques 9
// (2020) no. 3) and smooth value noise on it, both the same on every machine.
uint scramble(uvec3 v) {
  v = v * 1664525u + 1013904223u;
  v.x += v.y * v.z;
  v.y += v.z * v.x;
  v.z += v.x * v.y;
  v ^= v >> 16u;
  v.x += v.y * v.z;
  return v.x;
}

float random(ivec3 cell) {
  return float(scramble(uvec3(cell)) >> 8u) * (1.0 / 16777216.0);
}

// Smooth, 0 to 1, one feature a unit.
float noise(vec3 p) {
  ivec3 i = ivec3(floor(p));
  vec3 f = fract(p);
  f = f * f * (3.0 - 2.0 * f);
  vec4 low = vec4(random(i), random(i + ivec3(1, 0, 0)), random(i + ivec3(0, 1, 0)), random(i + ivec3(1, 1, 0)));
  vec4 high = vec4(random(i + ivec3(0, 0, 1)), random(i + ivec3(1, 0, 1)), random(i + ivec3(0, 1, 1)),
                   random(i + ivec3(1, 1, 1)));
  vec4 level = mix(low, high, f.z);
  vec2 row = mix(level.xz, level.yw, f.x);
  return mix(row.x, row.y, f.y);
}

// Size of a pixel on the surface, in the units of p.
float pixel_size(vec3 p) {
  return max(length(dFdx(p)), length(dFdy(p)));
}

// 1 while a detail of the given size can be seen, 0 when it is lost between pixels.
float visible(float detail, float pixel) {
  return 1.0 - smoothstep(0.5 * detail, 1.4 * detail, pixel);
}
