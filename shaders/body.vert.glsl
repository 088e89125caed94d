// A body's triangles, for every way of drawing them.
layout(location = 0) in vec3 position;  // mm, handle's frame
layout(location = 1) in vec3 normal;
layout(location = 2) in float below;     // mm under the surface without its round-over; under 0: a cut face

uniform mat4 to_clip;
uniform mat4 to_light;      // place -> shadow map, 0 to 1
uniform vec3 shift;         // of the exploded view
uniform vec4 section;       // plane in the unexploded frame: what has dot(xyz, p) > w is cut away
uniform mat3 to_grain;      // rows: fibre, radial, tangential
uniform vec3 grain_origin;
uniform vec4 depth;         // dot(depth, (position, 1)): mm under the face of the wood that shows

out vec3 place;     // exploded, mm
out vec3 facing;    // normal
out vec3 grain_at;  // mm along fibre, radial, tangential
out vec3 grain_facing;
out vec4 light_at;
out vec3 in_plan;   // x and y, unexploded, and how far down

void main() {
  place = position + shift;
  facing = normal;
  grain_at = to_grain * (position - grain_origin);
  grain_facing = to_grain * normal;
  in_plan = vec3(position.xy, below < 0.0 ? dot(depth, vec4(position, 1.0)) : below);
  light_at = to_light * vec4(place, 1.0);
  gl_ClipDistance[0] = section.w - dot(section.xyz, position);
  gl_Position = to_clip * vec4(place, 1.0);
}
